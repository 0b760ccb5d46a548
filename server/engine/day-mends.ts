import type { Day } from '#grammar/statement.ts';
import { addMonths, isoDay } from '#grammar/values/date.ts';
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

/** So long ago a line is written up at most; a year's number that slipped is looked for in that time. */
const lately = 60;
/** Nobody's thumb slips further. */
const mostYears = 3;

/** A day that is still to come, and with an earlier year's number would lie behind us lately: that number is offered. */
export function withYearMend(finding: Finding, log: Log, day: Day): Finding {
  const { entry } = finding;
  return {
    ...finding,
    // a log computed for an early day may have thousands
    get mends() {
      const meant = yearsBefore(entry.day ?? day).find((one) => one <= day && day - one <= lately);
      const dated = meant === undefined ? undefined : datedAt(entry, log);
      if (meant === undefined || !dated?.line.date) return [];
      const { span } = dated.line.date;
      const text = isoDay(meant);
      return [{ title: `Make it ${text}`, edits: [{ entry: dated, where: 'in' as const, span, text }] }];
    },
  };
}

const yearsBefore = (day: Day): Day[] =>
  Array.from({ length: mostYears }, (_, years) => addMonths(day, -12 * (years + 1)));

/** The line that gives a line its day: itself, or the day line above. */
function datedAt(entry: Entry, log: Log): Entry | undefined {
  if (entry.line.date) return entry;
  const document = log.document(entry.file);
  for (let at = document?.lineOf(entry) ?? -1; at >= 0; at--) {
    const above = document?.entryAt(at);
    if (above?.line.date && above.line.date.day === entry.day && !above.line.statement) return above;
  }
  return undefined;
}

function dayBelow(entry: Entry, log: Log): Day | undefined {
  const document = log.document(entry.file);
  const at = document?.lineOf(entry) ?? -1;
  if (!document || at < 0) return undefined;
  for (const other of document.entries.slice(at + 1, at + 1 + near)) if (other.line.date) return other.line.date.day;
  return undefined;
}
