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
    const widths = targetWidths(parts);
    parts.forEach((part, i) => {
      const at = block[i] as number;
      if (!part || at < from || at > to) return;
      const text = layOut(part, widths[i] ?? 0);
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
  for (const { line, text: laidOut } of formatLines(lines)) {
    // a line emptied between CR and LF would make one line end of two
    const fused = laidOut === '' && pieces[line * 2 - 1] === '\r' && pieces[line * 2 + 1] === '\n';
    if (!fused) pieces[line * 2] = laidOut;
  }
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
    target: single && first ? tidy(text, first) : '',
    rest: (single ? others : spans).map((stretch) => tidy(text, stretch)),
    comment: line.comment ? text.slice(line.comment.start).trimEnd() : '',
  };
}

function beforeVerb(line: Line): string {
  const date = line.date ? line.text.slice(line.date.span.start, line.date.span.end) : '';
  const time = line.time ? line.text.slice(line.time.span.start, line.time.span.end) : '';
  return [date, time].filter(Boolean).join(' ');
}

/** A piece behind the verb; in a list commas between words say something, before its first word they don't. */
interface Stretch extends Span {
  readonly list?: 'words' | 'keyed' | 'pair';
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
    ...(statement.scopes ?? []).map((scope) => scope.span),
    ...(codes[0] && last ? [{ start: codes[0].span.start, end: last.span.end, list: 'words' as const }] : []),
    ...(statement.taxa ? [{ ...statement.taxa.span, list: 'pair' as const }] : []),
    ...statement.facts.map(
      ({ key, span }): Stretch => (listed.has(keyRow(key).value) ? { ...span, list: 'keyed' } : span),
    ),
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
function targetWidths(parts: readonly (Parts | undefined)[]): number[] {
  const widths: number[] = [];
  for (let from = 0; from < parts.length; ) {
    let to = from;
    let wide = 0;
    for (; to < parts.length && parts[to]?.verb === parts[from]?.verb; to++) {
      const length = parts[to]?.target.length ?? 0;
      if (length <= widestTarget) wide = Math.max(wide, length);
    }
    for (; from < to; from++) widths.push(wide);
  }
  return widths;
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
function tidy(line: string, { start, end, list }: Stretch): string {
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
    // one blank would make `K26.1,2 x4` a graft and a size (decided row 1)
    else if (token.tokenType === Count && before?.tokenType === Grafts && before.image.includes(',')) out += '  ';
    else if (list === 'pair' && before && (token.tokenType === Slash || before.tokenType === Slash)) out += ' ';
    else if (between !== '' && token.tokenType !== ListComma && before?.tokenType !== ListComma) out += ' ';
    out += spelled(token);
  });
  return out;
}

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
    case SpanToken:
    case Word:
      return token.image.replace(/\b([a-z]{3})-(\d)(?!\d)/g, '$1-0$2');
    default:
      return token.image;
  }
}
