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

/**
 * What was understood of a line, from left to right, no piece over another. One object serves all lines of a file, as
 * every line is asked for at once and a piece is looked at once.
 */
export class LinePieces {
  readonly start: number[] = [];
  readonly end: number[] = [];
  readonly is: Is[] = [];
  /** Of names. */
  readonly key: (string | undefined)[] = [];
  count = 0;

  read({ text, date, time, statement, comment }: Line): void {
    this.count = 0;
    if (date) this.put('figure', date.span.start, date.span.end);
    if (time) this.put('figure', time.span.start, time.span.end);
    if (statement) ofStatement(text, statement, this);
    if (comment) this.put('remark', comment.start, comment.end);
  }

  put(is: Is, start: number, end: number, key?: string): void {
    if (end <= start) return;
    let at = this.count;
    while (at > 0 && (this.start[at - 1] as number) > start) at--;
    // what overlaps was read as something else already
    if (at > 0 && (this.end[at - 1] as number) > start) return;
    if (at < this.count && (this.start[at] as number) < end) return;
    for (let i = this.count; i > at; i--)
      this.set(i, this.is[i - 1] as Is, this.start[i - 1] as number, this.end[i - 1] as number, this.key[i - 1]);
    this.set(at, is, start, end, key);
    this.count++;
  }

  private set(at: number, is: Is, start: number, end: number, key: string | undefined): void {
    this.is[at] = is;
    this.start[at] = start;
    this.end[at] = end;
    this.key[at] = key;
  }
}

function ofStatement(
  text: string,
  { verb, verbSpan, sets, taxa, facts, scopes, codes, remark }: Statement,
  to: LinePieces,
): void {
  to.put('verb', verbSpan.start, verbSpan.end);
  for (let i = 0; i < sets.length; i++) {
    const set = sets[i] as SetRef;
    if (verb === 'site') to.put('text', set.name.span.start, set.name.span.end);
    else ofSet(text, set, i === 0 && declaredKind(verb) ? 'declared name' : 'name', to);
  }
  if (taxa) {
    ofPlant(text, taxa.scion.span, to);
    if (taxa.interstem) ofPlant(text, taxa.interstem.span, to);
    if (taxa.stock) ofPlant(text, taxa.stock.span, to);
  }
  for (const scope of scopes ?? []) {
    if (scope.kind === 'plant') ofPlant(text, scope.taxon.span, to);
    else if (scope.kind === 'set') ofSet(text, scope.set, 'name', to);
    else to.put('choice', scope.span.start, scope.span.end);
  }
  for (const { span } of codes ?? []) to.put('choice', span.start, span.end);
  for (const fact of facts) ofFact(text, fact, to);
  if (remark) to.put('text', remark.span.start, remark.span.end);
}

function ofSet(text: string, set: SetRef, is: Is, to: LinePieces): void {
  const { name, numbers, rest, except, count, span } = set;
  to.put(is, name.span.start, name.span.end, name.key);
  if (!numbers && !rest && !except && !count) return;
  const end = numbersEnd(text, set);
  to.put('figure', name.span.end, end);
  if (count) to.put('figure', count.span.start, count.span.end);
  for (const left of except ?? []) {
    to.put('name', left.name.span.start, left.name.span.end, left.name.key);
    to.put('figure', left.name.span.end, left.span.end);
  }
  if (rest || except)
    for (const { 0: word, index } of text.slice(end, span.end).matchAll(joining))
      to.put('joining', end + index, end + index + word.length);
}

const joining = /(?<![\p{L}\p{N}.])(?:rest|except)(?![\p{L}\p{N}.])/gu;

function ofPlant(text: string, { start, end }: Span, to: LinePieces): void {
  let cultivar = start;
  while (cultivar < end && text[cultivar] !== "'" && text[cultivar] !== '‘') cultivar++;
  to.put('plant', start, trimmedEnd(text, start, cultivar));
  to.put('text', cultivar, end);
}

function ofFact(text: string, { key, value, span, valueSpan, lost }: Fact, to: LinePieces): void {
  const { kind } = value;
  if (valueSpan.start > span.start) to.put('fact', span.start, trimmedEnd(text, span.start, valueSpan.start));
  if (lost === 'unread') return;
  const { start, end } = valueSpan;
  if (kind === 'flag') to.put(keyRow(key).value === 'flag' ? 'choice' : 'fact', start, end);
  else if (kind === 'text') to.put('text', start, end);
  else if (kind === 'name') ofName(value.name, 'name', to);
  else if (kind === 'names') for (const name of value.names) ofName(name, keyRow(key).of ? 'name' : 'hand', to);
  else to.put(kind === 'word' || kind === 'words' || kind === 'none' ? 'choice' : 'figure', start, end);
}

const ofName = ({ span, key }: Name, is: Is, to: LinePieces) =>
  to.put(is, span.start, span.end, is === 'name' ? key : undefined);

/** Before the blanks, colons and commas that stand between a key and its value. */
function trimmedEnd(text: string, start: number, end: number): number {
  let last = end;
  while (last > start && between.has(text.charCodeAt(last - 1))) last--;
  return last;
}

const between: ReadonlySet<number> = new Set([...' \t\u00A0:=,;'].map((sign) => sign.charCodeAt(0)));
