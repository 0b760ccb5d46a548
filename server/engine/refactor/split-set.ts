import type { Span } from '#grammar/finding.ts';
import { readLine } from '#grammar/line.ts';
import { replaced } from '#grammar/own-words.ts';
import { sameLine } from '#grammar/same-line.ts';
import type { Intervals, Line, SetRef } from '#grammar/statement.ts';
import { intervalsText, normalize, same, subtract } from '#grammar/values/intervals.ts';
import { type Verb, verbRow } from '#grammar/vocabulary.ts';
import { leaveOut } from '../book.ts';
import type { Log } from '../log.ts';
import type { Entry, LogEdit } from '../model.ts';

const judging: ReadonlySet<Verb> = new Set<Verb>(['take', 'fail']);

/** Sets of a line whose numbers may go to a line of their own: a count, a `rest` and an `except` speak of the whole set. */
export function splittable({ line }: Entry, log: Log): readonly SetRef[] {
  const { statement, problems } = line;
  if (!statement || statement.idle || problems.some(({ severity }) => severity === 'error')) return [];
  if (verbRow(statement.verb).kind !== 'work') return [];
  const { sets, verb } = statement;
  return sets.filter(
    ({ name, ...set }) =>
      set.numbers &&
      !set.count &&
      !set.rest &&
      !set.except &&
      sets.filter((other) => other.name.key === name.key).length === 1 &&
      // who is judged by name settles what was counted, line by line
      !(judging.has(verb) && log.names.workOn(name.key)?.derive(countsJudged)),
  );
}

const countsJudged = (lines: readonly Entry[]): boolean =>
  lines.some(
    ({ line: { statement } }) => statement && judging.has(statement.verb) && statement.sets.some((set) => set.count),
  );

/** Stretches of numbers under a selection, and a range's end under the caret: `14` and `12` in `K26.1..12,14`. */
export function piecesAt({ line }: Entry, set: SetRef, { start, end }: Span): Intervals[] {
  const from = set.name.span.end;
  const found: Intervals[] = [];
  for (const match of line.text.slice(from, set.span.end).matchAll(/(\d+)(?:\s?(?:\.\.|[-–])\s?(\d+))?/gu)) {
    const [whole, low = '', high] = match;
    const at = from + match.index;
    if (end < at || start > at + whole.length) continue;
    found.push(normalize([Number(low), Number(high ?? low)]));
    if (high === undefined || start !== end) continue;
    if (start <= at + low.length) found.push([Number(low), Number(low)]);
    if (start >= at + whole.length - high.length) found.push([Number(high), Number(high)]);
  }
  return found;
}

/** Some of a set on a line of its own below, with all that the line says; nothing where they aren't some of it. */
export function splitSet(entry: Entry, set: SetRef, numbers: Intervals): LogEdit[] | undefined {
  const all = set.numbers;
  if (!all || numbers.length === 0 || subtract(numbers, all).length > 0 || same(numbers, all)) return undefined;
  const { line } = entry;
  const [rest] = leaveOut(entry, set, numbers, set.name.text)?.edits ?? [];
  const [part] = leaveOut(entry, set, subtract(all, numbers), set.name.text)?.edits ?? [];
  if (!rest?.span || !part?.span) return undefined;
  const others = (line.statement?.sets ?? [])
    .filter((other) => other !== set)
    .map(({ span, count }) => ({ start: span.start, end: Math.max(span.end, count?.span.end ?? 0) }));
  const body = line.text.slice(0, line.comment?.start ?? line.text.length).trimEnd();
  const below = replaced(body, [
    { span: part.span, text: part.text },
    ...others.map((span) => ({ span: withBlanks(body, span), text: '' })),
  ]).trimEnd();
  const above = replaced(line.text, [{ span: rest.span, text: rest.text }]);
  if (!says(line, set, subtract(all, numbers), above, true) || !says(line, set, numbers, below, false))
    return undefined;
  return [
    { entry, where: 'in', span: rest.span, text: rest.text },
    { entry, where: 'below', text: below },
  ];
}

/** Whether a text says of these numbers what the line said of its set; `beside`: and all that it says of others. */
function says(line: Line, set: SetRef, numbers: Intervals, text: string, beside: boolean): boolean {
  const { statement, comment, ...rest } = line;
  if (!statement) return false;
  const sets = statement.sets.filter((other) => beside || other === set);
  const meant = sets.map((other) => (other === set ? { ...set, numbers } : other));
  return sameLine(
    { ...rest, ...(comment && beside ? { comment } : {}), statement: { ...statement, sets: meant } },
    readLine(text),
  );
}

/** `Split K26.14 off`, as long as a menu is wide. */
export const splitTitle = (set: SetRef, numbers: Intervals): string => {
  const title = `Split ${set.name.text}.${intervalsText(numbers)} off`;
  return title.length <= 40 ? title : `Split part of ${set.name.text} off`.slice(0, 40);
};

/** A piece with the blanks and the comma behind it. */
function withBlanks(text: string, { start, end }: Span): Span {
  const behind = /^[\s,;]*/u.exec(text.slice(end))?.[0].length ?? 0;
  return { start, end: end + behind };
}
