import type { IToken } from 'chevrotain';
import type { Problem, Span } from './finding.ts';
import { parseStatement } from './parser.ts';
import { readDate, spanOf } from './read/dates.ts';
import { readStatement } from './read/statement.ts';
import { end, sortWords } from './sort-words.ts';
import type { Line } from './statement.ts';
import { Comment, DateWord, Grafts, OtherDate, Time, tokenize, Word } from './tokens.ts';
import { nearest, verbWords } from './vocabulary.ts';

/** Longer than any line a hand writes: such a line is not taken apart. */
export const longestLine = 2000;

const empty: readonly Problem[] = [];

/** Reads one line alone. Never fails: what could be read and what could not come back together. */
export function readLine(text: string): Line {
  if (text.length > longestLine) return { text, problems: [tooLong(text)] };
  const conflict = /^(<{7}|={7}|>{7}|\|{7})(?: |$)/.exec(text);
  if (conflict) return { text, problems: [versionMark(text)] };
  const tokens = tokenize(text);
  if (tokens.length === 0) return { text, problems: empty };
  const problems: Problem[] = [];
  const line: { -readonly [K in keyof Line]: Line[K] } = { text, problems };
  let next = 0;
  const head = tokens[0] as IToken;
  if (head.tokenType === DateWord || head.tokenType === OtherDate) {
    const day = readDate(head, problems);
    if (day === undefined) line.dateLost = true;
    else line.date = { day, span: spanOf(head) };
    next = 1;
  }
  const clock = tokens[next];
  if (clock?.tokenType === Time) {
    const [hours = 0, minutes = 0] = clock.image.split(':').map(Number);
    if (hours < 24 && minutes < 60) line.time = { minutes: hours * 60 + minutes, span: spanOf(clock) };
    else
      problems.push({
        code: 'bad-date',
        severity: 'error',
        span: spanOf(clock),
        message: `${clock.image} is no time of day: 00:00 to 23:59.`,
      });
    next++;
  }
  const last = tokens.at(-1);
  if (last?.tokenType === Comment) {
    line.comment = spanOf(last);
    tokens.pop();
  }
  const first = tokens[next];
  if (first) {
    const sorted = sortWords(tokens, next);
    if (sorted)
      line.statement = readStatement(sorted, parseStatement(text, sorted.verb, tokens.slice(next)), text, problems);
    else problems.push(noVerb(tokens, next));
  }
  if (problems.length === 0) line.problems = empty;
  return line;
}

export function readLines(texts: readonly string[]): Line[] {
  return texts.map(readLine);
}

function noVerb(tokens: readonly IToken[], at: number): Problem {
  const first = tokens[at] as IToken;
  const second = tokens[at + 1];
  const behind = second?.tokenType === Word ? verbWords.get(second.image.toLowerCase()) : undefined;
  const named = first.tokenType === Grafts || (first.tokenType === Word && /\d/.test(first.image));
  if (named || behind) {
    const example = behind ?? 'take';
    return {
      code: 'unreadable',
      severity: 'error',
      span: spanOf(first),
      message: `The verb comes first: \`${example} ${first.image}\`.`,
      ...(behind && second
        ? {
            mends: [
              {
                title: `Write \`${example} ${first.image}\``.slice(0, 40),
                edits: [{ span: { start: first.startOffset, end: end(second) }, text: `${behind} ${first.image}` }],
              },
            ],
          }
        : {}),
    };
  }
  if (first.tokenType === Word) {
    const near = nearest(first.image.toLowerCase(), verbWords.keys());
    return {
      code: 'unknown-word',
      severity: 'error',
      span: spanOf(first),
      message: near
        ? `\`${first.image}\` is no verb of the notation. Is it \`${near}\`?`
        : `\`${first.image}\` is no verb of the notation: a line begins with what was done, such as \`graft\` or \`check\`.`,
      ...(near ? { mends: [{ title: `Write \`${near}\``, edits: [{ span: spanOf(first), text: near }] }] } : {}),
    };
  }
  return {
    code: 'unreadable',
    severity: 'error',
    span: unread(tokens, at),
    message: 'A line begins with a date or with what was done, such as `graft K26.1`; a remark begins with `#`.',
  };
}

function unread(tokens: readonly IToken[], at: number): Span {
  return { start: (tokens[at] as IToken).startOffset, end: end(tokens.at(-1) as IToken) };
}

const tooLong = (text: string): Problem => ({
  code: 'unreadable',
  severity: 'error',
  span: { start: 0, end: Math.min(text.length, longestLine) },
  message: `This line has ${text.length.toLocaleString('en')} characters; up to 2,000 are read: one line for each piece of work.`,
});

const versionMark = (text: string): Problem => ({
  code: 'unreadable',
  severity: 'error',
  span: { start: 0, end: text.length },
  message: 'Two versions of this log were put together and not joined: keep the right lines and take the marks out.',
});
