import { expect } from 'vitest';

/** A finding as marks show it: `line` from 0 in the log without marks, columns in UTF-16 units. */
export interface Marked {
  readonly line: number;
  readonly start: number;
  readonly end: number;
  readonly severity: string;
  readonly code: string;
  readonly message: string;
}

const mark = /^#( *)(\^+)?\s*(error|warning|information|hint)? ?([a-z-]+)?(?:: (.*))?$/;

/** The log without its marks. A mark is a comment under its line: carets, severity, code and, if wished, message. */
function stripMarks(text: string): string {
  return lines(text)
    .filter((line) => !isMark(line))
    .join('\n');
}

const lines = (text: string) =>
  text
    .replace(/^\n/, '')
    .replace(/\n\s*$/, '')
    .split('\n');
const isMark = (line: string) => /^# *\^/.test(line) || /^\^/.test(line) || /^#\^/.test(line);

/**
 * Compares what is found in a log with the marks under its lines. A caret in column 0 is the `#` itself. Marks without
 * a message, or without a severity, ask for less: the found line is cut to what the mark says.
 */
export function expectMarks(text: string, find: (log: string) => readonly Marked[]): void {
  const wanted = lines(text);
  const log = stripMarks(text);
  const found = [...find(log)].sort((a, b) => a.line - b.line || a.start - b.start || a.code.localeCompare(b.code));
  const written: string[] = [];
  const byLine = new Map<number, Marked[]>();
  for (const one of found) byLine.set(one.line, [...(byLine.get(one.line) ?? []), one]);
  let line = -1;
  const waiting: string[] = [];
  const flush = () => {
    for (const one of byLine.get(line) ?? []) written.push(markOf(one, waiting.shift()));
    waiting.length = 0;
  };
  for (const row of wanted) {
    if (isMark(row)) {
      waiting.push(row);
      continue;
    }
    flush();
    line++;
    written.push(row);
  }
  flush();
  expect(written.join('\n')).toBe(wanted.join('\n'));
}

function markOf(one: Marked, like: string | undefined): string {
  const carets = '^'.repeat(Math.max(1, one.end - one.start));
  const head = one.start === 0 ? `#${carets.slice(1)}` : `#${' '.repeat(one.start - 1)}${carets}`;
  const parts = like ? mark.exec(like) : null;
  const severity = parts && !parts[3] ? '' : ` ${one.severity}`;
  const message = parts && parts[5] === undefined ? '' : `: ${one.message.replaceAll('\u00A0', ' ')}`;
  return `${head}${severity} ${one.code}${message}`;
}
