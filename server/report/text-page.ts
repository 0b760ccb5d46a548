import stringWidth from 'string-width';
import type { Day } from '#grammar/statement.ts';
import { fromDay } from '#grammar/values/date.ts';
import { weekdayText } from '#server/engine/say.ts';

/** A page of text: the same on a terminal and in the editor, laid out for 80 columns. */
export type TextPage = readonly TextPart[];

export interface TextPart {
  readonly head: string;
  readonly lines: readonly string[];
}

export const pageWidth = 80;

/** @param heading sets a line of a heading off, where the place it is shown in has a way to; else it is underlined */
export function pageText(page: TextPage, heading?: (line: string) => string): string {
  const parts = page.map(({ head, lines }) => {
    const titles = paragraph(inert(head));
    const rule = '-'.repeat(Math.max(0, ...titles.map((line) => stringWidth(line))));
    return [...(heading ? titles.map(heading) : [...titles, rule]), ...lines.map(inert)];
  });
  return `${parts.map((lines) => lines.join('\n')).join('\n\n')}\n`;
}

/** `Fri 20 Jun 2025` */
export const pageDay = (day: Day): string => `${weekdayText(day)} ${fromDay(day).year}`;

/** Sentences in lines of the page's width. */
export const paragraph = (text: string, indent = 0): string[] =>
  text ? wrap(text, pageWidth, indent).split('\n') : [];

/** One of several sentences in a list. */
export const bullet = (text: string): string[] =>
  paragraph(text, 4).map((line, i) => (i === 0 ? line.replace(/^ {4}/, '  - ') : line));

/** Cells in columns; numbers right, words left. The last column is not padded, so that no line ends in blanks. */
export function columns(rows: readonly (readonly string[])[], right: ReadonlySet<number> = new Set()): string[] {
  const widths: number[] = [];
  for (const row of rows)
    row.forEach((cell, i) => {
      widths[i] = Math.max(widths[i] ?? 0, stringWidth(cell));
    });
  return rows.map((row) =>
    row
      .map((cell, i) => {
        const pad = ' '.repeat((widths[i] ?? 0) - stringWidth(cell));
        return right.has(i) ? pad + cell : i === row.length - 1 ? cell : cell + pad;
      })
      .join('  ')
      .trimEnd(),
  );
}

/** A cell of at most so many characters, what is left out shown by an ellipsis. */
export const short = (text: string, most: number): string =>
  text.length <= most ? text : `${text.slice(0, most - 1)}…`;

/** Breaks a sentence into lines of at most `width`, each behind `indent` blanks. */
export function wrap(text: string, width: number, indent: number): string {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line && stringWidth(line) + 1 + stringWidth(word) > width - indent) {
      lines.push(line);
      line = word;
    } else line = line ? `${line} ${word}` : word;
  }
  if (line) lines.push(line);
  return lines.map((part) => ' '.repeat(indent) + part).join('\n');
}

/** Text from a log that is shown: no control characters, so that a log can't move a terminal's cursor or turn a line round. */
export const inert = (text: string): string =>
  text.replace(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/g, '\uFFFD');
