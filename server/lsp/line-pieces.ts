import type { Span } from '#grammar/finding.ts';
import type { Fact, Line, Name, SetRef, Statement } from '#grammar/statement.ts';
import { keyRow } from '#grammar/vocabulary.ts';
import { declaredKind } from '#server/engine/mentions.ts';
import { numbersEnd } from './name-at.ts';

/** What a piece of a line is; a name's kind is known only with the whole log. */
export type Is =
  | 'verb'
  | 'fact'
  | 'choice'
  | 'figure'
  | 'text'
  | 'remark'
  | 'joining'
  | 'plant'
  | 'hand'
  | 'name'
  | 'declared name';

export interface Piece {
  readonly start: number;
  readonly end: number;
  readonly is: Is;
  /** Of a name. */
  readonly key?: string;
}

type Put = (is: Is, start: number, end: number, key?: string) => void;

/** What was understood of a line, from left to right, no piece over another. Asked for every line of a file. */
export function piecesOf(line: Line): Piece[] {
  const pieces: Piece[] = [];
  const put: Put = (is, start, end, key) => {
    if (end <= start) return;
    const piece: Piece = key === undefined ? { is, start, end } : { is, start, end, key };
    let at = pieces.length;
    while (at > 0 && (pieces[at - 1] as Piece).start > start) at--;
    // what overlaps was read as something else already
    if ((pieces[at - 1]?.end ?? 0) > start || (pieces[at]?.start ?? end) < end) return;
    if (at === pieces.length) pieces.push(piece);
    else pieces.splice(at, 0, piece);
  };
  const { date, time, statement, comment } = line;
  if (date) put('figure', date.span.start, date.span.end);
  if (time) put('figure', time.span.start, time.span.end);
  if (statement) ofStatement(line.text, statement, put);
  if (comment) put('remark', comment.start, comment.end);
  return pieces;
}

function ofStatement(
  text: string,
  { verb, verbSpan, sets, taxa, facts, scopes, codes, remark }: Statement,
  put: Put,
): void {
  put('verb', verbSpan.start, verbSpan.end);
  for (let i = 0; i < sets.length; i++) {
    const set = sets[i] as SetRef;
    if (verb === 'site') put('text', set.name.span.start, set.name.span.end);
    else ofSet(text, set, i === 0 && declaredKind(verb) ? 'declared name' : 'name', put);
  }
  if (taxa) {
    ofPlant(text, taxa.scion.span, put);
    if (taxa.interstem) ofPlant(text, taxa.interstem.span, put);
    if (taxa.stock) ofPlant(text, taxa.stock.span, put);
  }
  for (const scope of scopes ?? []) {
    if (scope.kind === 'plant') ofPlant(text, scope.taxon.span, put);
    else if (scope.kind === 'set') ofSet(text, scope.set, 'name', put);
    else put('choice', scope.span.start, scope.span.end);
  }
  for (const { span } of codes ?? []) put('choice', span.start, span.end);
  for (const fact of facts) ofFact(text, fact, put);
  if (remark) put('text', remark.span.start, remark.span.end);
}

function ofSet(text: string, set: SetRef, is: Is, put: Put): void {
  const { name, numbers, rest, except, count, span } = set;
  put(is, name.span.start, name.span.end, name.key);
  if (!numbers && !rest && !except && !count) return;
  const end = numbersEnd(text, { name, span, ...(numbers ? { numbers } : {}), set });
  put('figure', name.span.end, end);
  if (count) put('figure', count.span.start, count.span.end);
  for (const left of except ?? []) {
    put('name', left.name.span.start, left.name.span.end, left.name.key);
    put('figure', left.name.span.end, left.span.end);
  }
  if (rest || except)
    for (const { 0: word, index } of text.slice(end, span.end).matchAll(joining))
      put('joining', end + index, end + index + word.length);
}

const joining = /(?<![\p{L}\p{N}.])(?:rest|except)(?![\p{L}\p{N}.])/gu;

function ofPlant(text: string, { start, end }: Span, put: Put): void {
  let cultivar = start;
  while (cultivar < end && text[cultivar] !== "'" && text[cultivar] !== '‘') cultivar++;
  put('plant', start, trimmedEnd(text, start, cultivar));
  put('text', cultivar, end);
}

function ofFact(text: string, { key, value, span, valueSpan, lost }: Fact, put: Put): void {
  const { kind } = value;
  if (valueSpan.start > span.start) put('fact', span.start, trimmedEnd(text, span.start, valueSpan.start));
  if (lost === 'unread') return;
  const { start, end } = valueSpan;
  if (kind === 'flag') put(keyRow(key).value === 'flag' ? 'choice' : 'fact', start, end);
  else if (kind === 'text') put('text', start, end);
  else if (kind === 'name') ofName(value.name, 'name', put);
  else if (kind === 'names') for (const name of value.names) ofName(name, keyRow(key).of ? 'name' : 'hand', put);
  else put(kind === 'word' || kind === 'words' || kind === 'none' ? 'choice' : 'figure', start, end);
}

const ofName = ({ span, key }: Name, is: Is, put: Put) =>
  put(is, span.start, span.end, is === 'name' ? key : undefined);

/** Before the blanks, colons and commas that stand between a key and its value. */
function trimmedEnd(text: string, start: number, end: number): number {
  let last = end;
  while (last > start && between.has(text.charCodeAt(last - 1))) last--;
  return last;
}

const between: ReadonlySet<number> = new Set([...' \t\u00A0:=,;'].map((sign) => sign.charCodeAt(0)));
