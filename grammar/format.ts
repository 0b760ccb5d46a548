import type { IToken } from 'chevrotain';
import type { Span } from './finding.ts';
import { readLine } from './line.ts';
import type { Line, Statement } from './statement.ts';
import { Amount, Grafts, Interval, ListComma, Size, Span as SpanToken, tokenize, Word } from './tokens.ts';
import { attached, spelledInterval, spelledSet } from './values/spelling.ts';

/** A change of one line: its new text. Lines that stay as they are give none. */
export interface LineFormat {
  readonly line: number;
  readonly text: string;
}

/** One column for the verbs of the whole log (`collect`, `uncover`), so that no line moves for its neighbour. */
const verbWide = 7;
/** A target wider than this doesn't push the lines around it. */
const widestTarget = 28;

/**
 * Layout of a log: verbs in one column, targets in columns within a block, two blanks between facts, ranges with `..`, units
 * attached. Words, order and comments stay; a line that could not be read whole is left alone.
 */
export function formatLines(lines: readonly Line[], from = 0, to = lines.length - 1): LineFormat[] {
  const changes: LineFormat[] = [];
  for (const block of blocks(lines)) {
    if ((block.at(-1) ?? 0) < from || (block[0] ?? 0) > to) continue;
    const parts = block.map((line) => partsOf(lines[line] as Line));
    parts.forEach((part, i) => {
      const at = block[i] as number;
      if (!part || at < from || at > to) return;
      const text = layOut(part, targetWidth(parts, i));
      if (text !== (lines[at] as Line).text) changes.push({ line: at, text });
    });
  }
  for (let i = from; i <= to; i++) {
    const line = lines[i];
    if (!line || line.statement || hasError(line)) continue;
    const text = plainLine(line);
    if (text !== line.text) changes.push({ line: i, text });
  }
  return changes.sort((a, b) => a.line - b.line);
}

/** The whole text laid out; line ends stay what they were, line by line. */
export function formatText(text: string): string {
  const pieces = text.split(/(\r\n|\r|\n)/);
  const lines = pieces.filter((_, i) => i % 2 === 0).map(readLine);
  for (const change of formatLines(lines)) pieces[change.line * 2] = change.text;
  return pieces.join('');
}

/** Lines that stand together: no empty line, day line or comment between them. */
function blocks(lines: readonly Line[]): number[][] {
  const found: number[][] = [];
  let block: number[] = [];
  lines.forEach((line, i) => {
    if (line.statement) block.push(i);
    else if (block.length > 0) {
      found.push(block);
      block = [];
    }
  });
  if (block.length > 0) found.push(block);
  return found;
}

interface Parts {
  readonly before: string;
  readonly verb: string;
  readonly target: string;
  readonly rest: readonly string[];
  readonly comment: string;
}

const hasError = (line: Line) => line.problems.some((problem) => problem.severity === 'error');

/** A line's parts, each already tidy inside; `undefined` where the line must be left alone. */
function partsOf(line: Line): Parts | undefined {
  const { statement, text } = line;
  if (!statement || hasError(line)) return undefined;
  const spans = spansOf(statement);
  const [first, ...others] = spans;
  const single = statement.sets[0] && first && first.start === statement.sets[0].span.start;
  return {
    before: beforeVerb(line),
    verb: text.slice(statement.verbSpan.start, statement.verbSpan.end),
    target: single && first ? tidy(text.slice(first.start, first.end)) : '',
    rest: (single ? others : spans).map((span) => tidy(text.slice(span.start, span.end))),
    comment: line.comment ? text.slice(line.comment.start).trimEnd() : '',
  };
}

function beforeVerb(line: Line): string {
  const date = line.date ? line.text.slice(line.date.span.start, line.date.span.end) : '';
  const time = line.time ? line.text.slice(line.time.span.start, line.time.span.end) : '';
  return [date, time].filter(Boolean).join(' ');
}

/** Everything behind the verb, in the order written. */
function spansOf(statement: Statement): Span[] {
  const codes = statement.codes ?? [];
  const last = codes.at(-1);
  const spans: Span[] = [
    ...statement.sets.flatMap(({ span, count }) =>
      count && count.span.start >= span.end ? [span, count.span] : [span],
    ),
    ...(statement.scopes ?? []).map((scope) => scope.span),
    ...(codes[0] && last ? [{ start: codes[0].span.start, end: last.span.end }] : []),
    ...(statement.taxa ? [statement.taxa.span] : []),
    ...statement.facts.map((fact) => fact.span),
    ...(statement.remark ? [statement.remark.span] : []),
    ...(statement.spare ?? []).map((word) => word.span),
  ];
  return spans.sort((a, b) => a.start - b.start);
}

function layOut(part: Parts, targetWide: number): string {
  const behind = part.rest.join('  ');
  const target = behind && part.target ? part.target.padEnd(targetWide) : part.target;
  const verb = target || behind ? part.verb.padEnd(verbWide) : part.verb;
  return [part.before, verb, target, behind, part.comment].filter((text) => text !== '').join('  ');
}

/** Neighbours with the same verb share a column for what they act on. */
function targetWidth(parts: readonly (Parts | undefined)[], at: number): number {
  const verb = parts[at]?.verb;
  let wide = 0;
  const look = (part: Parts | undefined) => {
    if (part && part.target.length <= widestTarget) wide = Math.max(wide, part.target.length);
  };
  for (let i = at; i >= 0 && parts[i]?.verb === verb; i--) look(parts[i]);
  for (let i = at + 1; i < parts.length && parts[i]?.verb === verb; i++) look(parts[i]);
  return wide;
}

/** A day line, a comment, an empty line. */
function plainLine(line: Line): string {
  const comment = line.comment ? line.text.slice(line.comment.start).trimEnd() : '';
  const day = beforeVerb(line);
  if (day) return comment ? `${day}  ${comment}` : day;
  // a comment keeps its indent: growers set things off with it
  return comment && line.comment ? line.text.slice(0, line.comment.start).replaceAll('\t', '  ') + comment : '';
}

/** One blank between words, none around a list's comma; figures and sets in their canonical spelling. */
function tidy(text: string): string {
  const tokens = tokenize(text);
  let out = '';
  let before: IToken | undefined;
  for (const token of tokens) {
    const gap = before !== undefined && before.startOffset + before.image.length < token.startOffset;
    const comma =
      before !== undefined && text.slice(before.startOffset + before.image.length, token.startOffset).includes(',');
    // only a list of words keeps its comma; between facts it says nothing
    if (comma && token.tokenType === Word && before?.tokenType === Word) out += ',';
    else if (gap && token.tokenType !== ListComma && before?.tokenType !== ListComma) out += ' ';
    out += spelled(token);
    before = token;
  }
  return out;
}

function spelled(token: IToken): string {
  switch (token.tokenType) {
    case Grafts:
      return spelledSet(token.image);
    case Interval:
      return spelledInterval(token.image);
    case Amount:
      return attached(token.image);
    case Size:
      return token.image
        .split(/\s*([×x])\s*/)
        .map((part) => (part === 'x' || part === '×' ? ` ${part} ` : spelledInterval(part)))
        .join('');
    case SpanToken:
    case Word:
      return token.image.replace(/\b([a-z]{3})-(\d)(?!\d)/g, '$1-0$2');
    default:
      return token.image;
  }
}
