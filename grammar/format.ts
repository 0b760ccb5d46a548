import type { IToken } from 'chevrotain';
import type { Span } from './finding.ts';
import { readLine } from './line.ts';
import { dropCommas } from './sort-words.ts';
import type { Line, Statement } from './statement.ts';
import {
  Amount,
  Count,
  Grafts,
  Interval,
  ListComma,
  Size,
  Slash,
  Span as SpanToken,
  tokenize,
  Word,
} from './tokens.ts';
import { attached, spelledInterval, spelledSet } from './values/spelling.ts';
import { keyRow, type ValueForm } from './vocabulary.ts';

/** A change of one line: its new text. Lines that stay as they are give none. */
export interface LineFormat {
  readonly line: number;
  readonly text: string;
}

/** A line among its neighbours: an entry of a document is one. */
interface Placed {
  readonly line: Line;
}

/**
 * Where what is acted on begins, in the whole log: two blanks behind `collect` and `uncover`, one behind `headback` and
 * `practice`, so that no line moves for its neighbour.
 */
const verbColumn = 9;
/** A target wider than this doesn't push the lines around it. */
const widestTarget = 28;

/**
 * Layout of a log: verbs in one column, targets in columns among neighbours, two blanks between facts, ranges with `..`,
 * units attached. Words, order and comments stay; a line that could not be read whole is left alone. Only the lines
 * asked for are taken apart; of their neighbours no more than what they act on is looked at.
 */
export function formatLines(lines: readonly Placed[], from = 0, to = lines.length - 1): LineFormat[] {
  const changes: LineFormat[] = [];
  for (let at = Math.max(0, from); at <= Math.min(to, lines.length - 1); ) {
    const end = runEnd(lines, at);
    const wide = end === at ? 0 : targetWidth(lines, runStart(lines, at), end);
    const last = Math.min(to, Math.max(at, end - 1));
    for (; at <= last; at++) {
      const { line } = lines[at] as Placed;
      const text = formatted(line, wide);
      if (text !== undefined && text !== line.text) changes.push({ line: at, text });
    }
  }
  return changes;
}

function formatted(line: Line, wide: number): string | undefined {
  if (hasError(line)) return undefined;
  const parts = partsOf(line);
  return parts ? layOut(parts, wide) : plainLine(line);
}

/** The whole text laid out; line ends stay what they were, line by line. */
export function formatText(text: string): string {
  const pieces = text.split(/(\r\n|\r|\n)/);
  const lines = pieces.filter((_, i) => i % 2 === 0).map((piece) => ({ line: readLine(piece) }));
  for (const { line, text: laidOut } of formatLines(lines)) {
    // a line emptied between CR and LF would make one line end of two
    const fused = laidOut === '' && pieces[line * 2 - 1] === '\r' && pieces[line * 2 + 1] === '\n';
    if (!fused) pieces[line * 2] = laidOut;
  }
  return pieces.join('');
}

/** The verb of a line that can be laid out, as it is written. */
function verbOf(line: Line | undefined): string | undefined {
  if (!line?.statement || hasError(line)) return undefined;
  return line.text.slice(line.statement.verbSpan.start, line.statement.verbSpan.end);
}

/** Lines with the same verb, one below the other, share a column for what they act on. Where none begins, `at` itself. */
function runEnd(lines: readonly Placed[], at: number): number {
  const verb = verbOf(lines[at]?.line);
  let end = at;
  if (verb !== undefined) while (verbOf(lines[end]?.line) === verb) end++;
  return end;
}

function runStart(lines: readonly Placed[], at: number): number {
  const verb = verbOf(lines[at]?.line);
  let start = at;
  while (verbOf(lines[start - 1]?.line) === verb) start--;
  return start;
}

interface Parts {
  readonly before: string;
  readonly verb: string;
  readonly target: string;
  readonly rest: readonly string[];
  readonly comment: string;
}

const hasError = (line: Line) => line.problems.some((problem) => problem.severity === 'error');

/** A line's parts, each already tidy inside; `undefined` where it says nothing. */
function partsOf(line: Line): Parts | undefined {
  const { statement, text } = line;
  if (!statement) return undefined;
  const spans = spansOf(statement);
  const single = isSingle(statement, spans);
  return {
    before: beforeVerb(line),
    verb: text.slice(statement.verbSpan.start, statement.verbSpan.end),
    target: single ? targetOf(line) : '',
    rest: (single ? spans.slice(1) : spans).map((stretch) => tidy(text, stretch)),
    comment: line.comment ? text.slice(line.comment.start).trimEnd() : '',
  };
}

/** What a line acts on comes first behind the verb. */
const isSingle = (statement: Statement, [first]: readonly Stretch[]) =>
  first !== undefined && first.start === statement.sets[0]?.span.start;

const targets = new WeakMap<Line, string>();

/** The first thing a line acts on, tidy; kept, as each line laid out asks for those of its neighbours. */
function targetOf(line: Line): string {
  const known = targets.get(line);
  if (known !== undefined) return known;
  const { statement, text } = line;
  const spans = statement ? spansOf(statement) : [];
  const target = statement && spans[0] && isSingle(statement, spans) ? tidy(text, spans[0]) : '';
  targets.set(line, target);
  return target;
}

function beforeVerb(line: Line): string {
  const date = line.date ? line.text.slice(line.date.span.start, line.date.span.end) : '';
  const time = line.time ? line.text.slice(line.time.span.start, line.time.span.end) : '';
  return [date, time].filter(Boolean).join(' ');
}

/** A piece behind the verb; in a list commas between words say something, before its first word they don't. */
interface Stretch extends Span {
  readonly list?: 'words' | 'keyed' | 'pair';
  /** Days of the year stand in it; elsewhere `bay-1` is a name. */
  readonly yearDays?: true;
}

const listed: ReadonlySet<ValueForm> = new Set(['names', 'hands', 'code', 'year', 'work', 'events', 'covers']);

/** Everything behind the verb, in the order written. */
function spansOf(statement: Statement): Stretch[] {
  const codes = statement.codes ?? [];
  const last = codes.at(-1);
  const spans: Stretch[] = [
    ...statement.sets.flatMap(({ span, count }) =>
      count && count.span.start >= span.end ? [span, count.span] : [span],
    ),
    ...scopeSpans(statement.scopes ?? []),
    ...(codes[0] && last ? [{ start: codes[0].span.start, end: last.span.end, list: 'words' as const }] : []),
    ...(statement.taxa ? [{ ...statement.taxa.span, list: 'pair' as const }] : []),
    ...statement.facts.map(
      ({ key, span, value }): Stretch => ({
        ...span,
        ...(listed.has(keyRow(key).value) ? { list: 'keyed' } : {}),
        ...(value.kind === 'year' || value.kind === 'dates' ? { yearDays: true } : {}),
      }),
    ),
    ...(statement.remark ? [statement.remark.span] : []),
    ...(statement.spare ?? []).map((word) => word.span),
  ];
  return spans.sort((a, b) => a.start - b.start);
}

/** Without the comma between them a genus and the name behind it, `Abies,koreana`, would be one plant. */
function scopeSpans(scopes: NonNullable<Statement['scopes']>): Stretch[] {
  const spans: Stretch[] = [];
  for (const [i, { kind, span }] of scopes.entries()) {
    const joined = kind === 'set' && scopes[i - 1]?.kind === 'plant' && spans.at(-1)?.end === span.start - 1;
    const plant = joined ? spans.pop() : undefined;
    spans.push(plant ? { start: plant.start, end: span.end, list: 'words' } : span);
  }
  return spans;
}

function layOut(part: Parts, targetWide: number): string {
  const behind = part.rest.join('  ');
  const target = behind && part.target ? part.target.padEnd(targetWide) : part.target;
  const acted = joined(target, behind);
  return joined(part.before, acted ? `${part.verb} `.padEnd(verbColumn) + acted : part.verb, part.comment);
}

const joined = (...parts: readonly string[]) => parts.filter((part) => part !== '').join('  ');

function targetWidth(lines: readonly Placed[], from: number, end: number): number {
  let wide = 0;
  for (let i = from; i < end; i++) {
    const { length } = targetOf((lines[i] as Placed).line);
    if (length <= widestTarget) wide = Math.max(wide, length);
  }
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
function tidy(line: string, { start, end, list, yearDays }: Stretch): string {
  const text = line.slice(start, end);
  const tokens = tokenize(text);
  dropCommas(tokens);
  let out = '';
  tokens.forEach((token, i) => {
    const before = tokens[i - 1];
    const between = before ? text.slice(before.startOffset + before.image.length, token.startOffset) : '';
    const joined = before !== undefined && joins(before, token) && (list === 'words' || (list === 'keyed' && i > 1));
    // `except K26.3, K26.5` is a list, too
    const sets = before?.tokenType === Grafts && token.tokenType === Grafts;
    if (between.includes(',') && (joined || sets)) out += ',';
    // one blank would make `K26.1,2 x4` a graft and a size
    else if (token.tokenType === Count && before?.tokenType === Grafts && before.image.includes(',')) out += '  ';
    else if (list === 'pair' && before && (token.tokenType === Slash || before.tokenType === Slash)) out += ' ';
    else if (between !== '' && token.tokenType !== ListComma && before?.tokenType !== ListComma) out += ' ';
    out += yearDays ? spelledDays(token) : spelled(token);
  });
  return out;
}

/** `mar-1` as `mar-01`. */
const spelledDays = (token: IToken): string =>
  token.tokenType === SpanToken || token.tokenType === Word
    ? token.image.replace(/\b([a-z]{3})-(\d)(?!\d)/g, '$1-0$2')
    : spelled(token);

const joins = (a: IToken, b: IToken) => isListed(a) && isListed(b);
const isListed = ({ tokenType }: IToken) => tokenType === Word || tokenType === SpanToken;

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
    default:
      return token.image;
  }
}
