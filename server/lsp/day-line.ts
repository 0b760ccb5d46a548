import { isDayLine } from '#grammar/carry.ts';
import { isoDay } from '#grammar/values/date.ts';
import { verbRow } from '#grammar/vocabulary.ts';
import type { Entry } from '#server/engine/model.ts';
import type { FileView } from './feature.ts';
import type { DayLineResult } from './protocol.ts';

/**
 * Where today's date goes for one who writes at a line, and where the caret goes then: nowhere but to a line of its own
 * if today stands above already; else to the caret, or to the file's end where undated work below would get another day.
 */
export function dayLine({ root, document }: FileView, line: number): DayLineResult {
  const { entries } = document;
  const { day } = root;
  const last = entries.length - 1;
  const at = Math.max(0, Math.min(line, last));
  if (dayUnder(entries, at) === day) return newLine(entries, at);
  const end = lastWritten(entries);
  if (dayUnder(entries, last) === day) return newLine(entries, end);
  const text = isoDay(day);
  if (!redates(entries, at)) {
    const here = textOf(entries[at]);
    if (here.trim() === '')
      return { edit: { line: at, from: 0, to: here.length, text: `${text}\n` }, caret: { line: at + 1, character: 0 } };
    return below(at, here, `\n${text}\n`, 2);
  }
  return below(end, textOf(entries[end]), `\n\n${text}\n`, 3);
}

const textOf = (entry: Entry | undefined): string => entry?.line.text ?? '';

const below = (line: number, here: string, text: string, down: number): DayLineResult => ({
  edit: { line, from: here.length, to: here.length, text },
  caret: { line: line + down, character: 0 },
});

/** The line itself where it is empty, else a new one under it. */
function newLine(entries: readonly Entry[], at: number): DayLineResult {
  const here = textOf(entries[at]);
  if (here.trim() === '') return { edit: null, caret: { line: at, character: here.length } };
  return below(at, here, '\n', 1);
}

/** The day that an undated line written under this one would have. */
function dayUnder(entries: readonly Entry[], at: number): number | undefined {
  let above = at;
  // a date on a line of work holds for that line only
  while (above >= 0 && entries[above]?.line.date && entries[above]?.line.statement) above--;
  return entries[above]?.day;
}

/** Whether a day line here would give work below it another day. */
function redates(entries: readonly Entry[], at: number): boolean {
  for (let i = at + 1; i < entries.length; i++) {
    const { line } = entries[i] as Entry;
    if (isDayLine(line) && (line.date || line.dateLost)) return false;
    if (line.statement && !line.date && verbRow(line.statement.verb).kind === 'work') return true;
  }
  return false;
}

function lastWritten(entries: readonly Entry[]): number {
  let last = entries.length - 1;
  while (last > 0 && textOf(entries[last]).trim() === '') last--;
  return last;
}
