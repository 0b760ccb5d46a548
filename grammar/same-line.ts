import { readLine } from './line.ts';
import type { Line } from './statement.ts';

/** Whether two lines say the same, however they are spelled and laid out. */
export const sameLine = (a: Line, b: Line): boolean => meaningOf(a) === meaningOf(b);

/** All that a line says, and what is wrong with it, without where in the line it stands. */
function meaningOf({ text, date, time, dateLost, statement, comment, problems }: Line): string {
  return JSON.stringify(
    [
      date?.day,
      time?.minutes,
      dateLost,
      statement,
      comment && text.slice(comment.start),
      problems.map(({ code }) => code),
    ],
    (key, value) => (key === 'span' || key.endsWith('Span') ? undefined : value),
  );
}

/** The new text, if it still says the same. */
export const keeping = (line: Line, text: string): boolean => sameLine(line, readLine(text));
