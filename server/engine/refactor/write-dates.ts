import { isoDay } from '#grammar/values/date.ts';
import { verbRow } from '#grammar/vocabulary.ts';
import type { Entry, LogEdit } from '../model.ts';

/**
 * The day carried down to a line written on the line itself, with the time where one is carried, too: then it may be
 * moved under any other day. Nothing for a line that has its date, needs none or has none to write.
 */
export function writeDate(entry: Entry): LogEdit | undefined {
  const { line, day, minute } = entry;
  const { statement, time } = line;
  if (!statement || line.date || line.dateLost || day === undefined || verbRow(statement.verb).kind !== 'work')
    return undefined;
  const start = time?.span.start ?? statement.verbSpan.start;
  const clock = time || minute === 0 ? '' : `${timeText(minute)}  `;
  return { entry, where: 'in', span: { start, end: start }, text: `${isoDay(day)}  ${clock}` };
}

const timeText = (minute: number): string =>
  `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;
