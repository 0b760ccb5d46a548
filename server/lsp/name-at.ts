import type { Span } from '#grammar/finding.ts';
import type { Intervals, Name, SetRef, Statement } from '#grammar/statement.ts';
import { Grafts, tokenize } from '#grammar/tokens.ts';
import { readGrafts } from '#grammar/values/graft-set.ts';
import { intersect, subtract } from '#grammar/values/intervals.ts';
import { keyRow } from '#grammar/vocabulary.ts';
import { mentionsIn } from '#server/engine/mentions.ts';
import type { Entry } from '#server/engine/model.ts';
import { inside } from './feature.ts';

/** One place where a line names a thing of the log, or one of its people, who are apart and never declared. */
export interface NamePlace {
  readonly name: Name;
  readonly as: 'declared' | 'target' | 'fact' | 'scope' | 'except' | 'hand';
  /** The name with its numbers; of a set with all that belongs to it. */
  readonly span: Span;
  /** Absent: all of it. */
  readonly numbers?: Intervals;
  readonly set?: SetRef;
}

/** A name under a position, and which part of it: what is said of a batch differs from what is said of one graft. */
export interface Named extends NamePlace {
  readonly on: 'name' | 'numbers' | 'set';
  /** Under the position: one number, a range, or all that is written there. */
  readonly picked?: Intervals;
  readonly pickedSpan: Span;
}

/** Every name on a line, those a set leaves out and the hands among them. */
export function namesIn(statement: Statement): NamePlace[] {
  const places: NamePlace[] = mentionsIn(statement).map(({ name, as, set }) => ({
    name,
    as,
    span: set?.span ?? name.span,
    ...(set ? { set } : {}),
    ...(set?.numbers ? { numbers: set.numbers } : {}),
  }));
  for (const { set } of [...places])
    for (const { name, numbers, span } of set?.except ?? []) places.push({ name, as: 'except', span, numbers });
  for (const { key, value } of statement.facts)
    if (value.kind === 'names' && keyRow(key).value === 'hands')
      for (const name of value.names) places.push({ name, as: 'hand', span: name.span });
  return places;
}

/** Whether a line names it at all: asked of every line of a log, so nothing is made, and what it acts on is asked first. */
export function saysName({ sets, facts, scopes }: Statement, key: string): boolean {
  for (let i = 0; i < sets.length; i++) if (setSays(sets[i] as SetRef, key)) return true;
  for (const { value } of facts) {
    if (value.kind === 'name' && value.name.key === key) return true;
    if (value.kind === 'names' && value.names.some((name) => name.key === key)) return true;
  }
  return scopes?.some((scope) => scope.kind === 'set' && setSays(scope.set, key)) ?? false;
}

const setSays = ({ name, except }: SetRef, key: string): boolean =>
  name.key === key || (except?.some((left) => left.name.key === key) ?? false);

export function nameAt(entry: Entry, character: number): Named | undefined {
  const { statement } = entry.line;
  if (!statement) return undefined;
  const places = namesIn(statement).filter(({ span }) => inside(span, character));
  // what a set leaves out lies inside the set
  const place = places.find(({ as }) => as === 'except') ?? places[0];
  if (!place) return undefined;
  if (inside(place.name.span, character)) return { ...place, on: 'name', pickedSpan: place.name.span };
  const picked = numbersAt(entry.line.text, place, character);
  if (picked) return { ...place, on: 'numbers', ...picked };
  return {
    ...place,
    on: 'set',
    pickedSpan: place.span,
    ...(place.numbers ? { picked: place.numbers } : {}),
  };
}

/** Where the numbers of `K26.1..12,14 rest` end; where the name ends if it has none. */
export function numbersEnd(text: string, { name, numbers, rest, except, count, span }: SetRef): number {
  if (!numbers) return name.span.end;
  if (!rest && !except && !count) return span.end;
  const { start } = name.span;
  const token = tokenize(text).find(({ startOffset, tokenType }) => startOffset === start && tokenType === Grafts);
  return start + (token?.image.length ?? 0);
}

/** On a figure that graft, on a range's dots the range, on a comma all of them. */
function numbersAt(
  text: string,
  place: NamePlace,
  character: number,
): Pick<Named, 'picked' | 'pickedSpan'> | undefined {
  const [start, end] = [place.name.span.end + 1, numbersEnd(text, place.set ?? place)];
  if (!place.numbers || character > end) return undefined;
  for (const part of text.slice(start, end).matchAll(/[^,]+/g)) {
    const from = start + part.index;
    if (!inside({ start: from, end: from + part[0].length }, character)) continue;
    for (const figure of part[0].matchAll(/\d+/g)) {
      const span = { start: from + figure.index, end: from + figure.index + figure[0].length };
      if (inside(span, character)) return { picked: [Number(figure[0]), Number(figure[0])], pickedSpan: span };
    }
    const blanks = part[0].length - part[0].trimStart().length;
    const pickedSpan = { start: from + blanks, end: from + part[0].length };
    return { picked: readGrafts(`x.${part[0]}`).numbers, pickedSpan };
  }
  return { picked: place.numbers, pickedSpan: { start, end } };
}

/** Whether a place can mean one of these grafts: it names the whole batch, or one of their numbers, and doesn't leave it out. */
export function mayMean(place: NamePlace, numbers: Intervals): boolean {
  const left = (place.set?.except ?? [])
    .filter(({ name }) => name.key === place.name.key)
    .reduce((rest, except) => subtract(rest, except.numbers), numbers);
  return left.length > 0 && (!place.numbers || intersect(place.numbers, left).length > 0);
}
