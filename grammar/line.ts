import type { IToken } from 'chevrotain';
import type { Problem } from './finding.ts';
import { parseStatement } from './parser.ts';
import { apostropheInside } from './read/apostrophe.ts';
import { readDate, readTime, spanOf, spelledDate, spelledTime } from './read/dates.ts';
import { noVerb } from './read/no-verb.ts';
import { numberAsRemark } from './read/number-as-remark.ts';
import { readStatement } from './read/statement.ts';
import { sortWords } from './sort-words.ts';
import type { Line } from './statement.ts';
import { Comment, DateWord, OtherDate, Time, tokenize } from './tokens.ts';

/** Longer than any line a hand writes: such a line is not taken apart. */
export const longestLine = 2000;

const empty: readonly Problem[] = [];

/** Reads one line alone. Never fails: what could be read and what could not come back together. */
export function readLine(text: string): Line {
  return unlexed(text) ?? lineOf(text, tokenize(text));
}

/** Lines together. One lexer call for fifty was tried: 2.6 against 2.9 µs a line, and tokens that must not cross an end. */
export const readLines = (texts: readonly string[]): Line[] => texts.map(readLine);

/** Lines that are not taken apart: too long for any hand, or marks left by joining two versions. */
function unlexed(text: string): Line | undefined {
  if (text.length > longestLine) return { text, problems: [tooLong(text)] };
  const first = text.charCodeAt(0);
  const mark =
    first === 60 || first === 61 || first === 62 || first === 124 ? conflict.exec(text)?.[1]?.[0] : undefined;
  return mark === undefined ? undefined : { text, problems: [versionMark(text, mark)] };
}

function lineOf(text: string, tokens: IToken[]): Line {
  if (tokens.length === 0) return { text, problems: empty };
  const slip = apostropheInside(text, tokens);
  if (slip) {
    const meant = lineOf(slip.text, tokenize(slip.text));
    return { ...meant, text, problems: [slip.problem, ...meant.problems] };
  }
  const problems: Problem[] = [];
  const line: { -readonly [K in keyof Line]: Line[K] } = { text, problems };
  const last = tokens.at(-1);
  if (last?.tokenType === Comment) {
    line.comment = spanOf(last);
    tokens.pop();
  }
  let next = 0;
  const head = tokens[0];
  if (head && (head.tokenType === DateWord || head.tokenType === OtherDate)) {
    const day = readDate(head, problems);
    if (day === undefined) line.dateLost = true;
    else line.date = { day, span: spanOf(head) };
    next = 1;
  }
  const clock = tokens[next];
  if (clock?.tokenType === Time) {
    const minutes = readTime(clock, problems);
    if (minutes !== undefined) line.time = { minutes, span: spanOf(clock) };
    next++;
  }
  if (tokens[next]) {
    const sorted = sortWords(tokens, next);
    if (sorted) {
      const bare = next === 0 ? tokens : tokens.slice(next);
      const statement = readStatement(sorted, parseStatement(text, sorted.verb, bare), text, problems);
      // most lines: made at once, it takes half the room of one that is added to
      if (next === 0 && !line.comment) return { text, problems: problems.length > 0 ? problems : empty, statement };
      line.statement = statement;
      const meant = line.comment && numberAsRemark(statement, text, line.comment.start);
      if (meant) {
        problems.push(meant);
        line.statement = { ...statement, idle: true };
      }
    } else {
      const bare = text.slice(0, line.comment?.start);
      const date = next === 0 ? spelledDate(bare) : undefined;
      if (date) line.dateLost = true;
      const timeDue = line.date && (!line.time || text[line.time.span.end] === ':');
      problems.push(
        date ?? (line.date && timeDue ? spelledTime(bare, line.date.span.end) : undefined) ?? noVerb(tokens, next),
      );
    }
  }
  if (problems.length === 0) line.problems = empty;
  return line;
}

const conflict = /^(<{7}|={7}|>{7}|\|{7})(?: |$)/;

const tooLong = (text: string): Problem => ({
  code: 'unreadable',
  severity: 'error',
  span: { start: 0, end: Math.min(text.length, longestLine) },
  message: `This line has ${text.length.toLocaleString('en')} characters; up to 2,000 are read: one line for each piece of work.`,
});

const marks: Readonly<Record<string, string>> = {
  '<': 'Two versions of this log were put together and not joined: keep the right lines of both, and take the marks out.',
  '|': 'From here on stands what both versions came from: keep the right lines, and take the marks out.',
  '=': 'From here on stands the other version: keep the right lines of both, and take the marks out.',
  '>': 'Here the other version ends: keep the right lines of both, and take the marks out.',
};

const versionMark = (text: string, mark: string): Problem => ({
  code: 'unreadable',
  severity: 'error',
  span: { start: 0, end: text.length },
  message: marks[mark] as string,
});
