import type { Day } from '#grammar/statement.ts';
import { isoDay } from '#grammar/values/date.ts';
import type { Log } from './log.ts';
import type { Entry, Finding, LogMend } from './model.ts';

/** How far below a line its day may stand forgotten. */
const near = 50;

/** A line of work without a day can be given the day computed for, or the one of the lines below it. */
export function withDayMends(finding: Finding, log: Log, day: Day): Finding {
  if (finding.code !== 'no-date') return finding;
  const { entry } = finding;
  const below = dayBelow(entry, log);
  const today = isoDay(day);
  const days = below === undefined || below === day ? [today] : [today, isoDay(below)];
  const above = days.map(
    (text): LogMend => ({ title: `Write ${text} on a line above`, edits: [{ entry, where: 'above', text }] }),
  );
  // before the time of day, where there is one
  const start = entry.line.text.search(/\S/);
  const own: LogMend = {
    title: `Begin the line with ${today}`,
    edits: [{ entry, where: 'in', span: { start, end: start }, text: `${today}  ` }],
  };
  return { ...finding, mends: [...above, own] };
}

function dayBelow(entry: Entry, log: Log): Day | undefined {
  const document = log.document(entry.file);
  const at = document?.lineOf(entry) ?? -1;
  if (!document || at < 0) return undefined;
  for (const other of document.entries.slice(at + 1, at + 1 + near)) if (other.line.date) return other.line.date.day;
  return undefined;
}
