import type { Amount, Scope, Taxon, YearPart } from '#grammar/statement.ts';
import { contains } from '#grammar/values/intervals.ts';
import type { PracticeRow, Wait } from './practice-rows.ts';
import { isDetached, type Range, type Subject } from './practice-subject.ts';
import { isTropical, later } from './practice-year.ts';
import { dayOfYear, firstOn, inStretches, type PlaceYear, stretchesOf } from './year.ts';

/** Whether a line's scopes hold for grafts of this kind: never changes through a history. */
export function inScope(row: PracticeRow, subject: Subject): boolean {
  return row.scopes.every((scope) => scopeHolds(scope, subject));
}

function scopeHolds(scope: Scope, subject: Subject): boolean {
  switch (scope.kind) {
    case 'any':
      return true;
    case 'detached':
      return isDetached(subject.method);
    case 'method':
      return subject.method !== undefined && scope.words.includes(subject.method);
    case 'group':
      return subject.group !== undefined && scope.words.includes(subject.group);
    case 'plant':
      return subject.scion !== undefined && isPlant(subject.scion, scope.taxon);
    case 'set':
      return scope.set.name.key === subject.batch && coversAll(scope.set.numbers, scope.set.except, subject);
  }
}

/** Grafts must all be meant: a set is cut along such lines before it is asked about (`parts`). */
function coversAll(
  numbers: readonly number[] | undefined,
  except: Extract<Scope, { kind: 'set' }>['set']['except'],
  subject: Subject,
): boolean {
  const asked = subject.numbers ?? [];
  for (let i = 0; i < asked.length; i += 2) {
    const low = asked[i] as number;
    if (numbers && !contains(numbers, low)) return false;
    if (except?.some((set) => contains(set.numbers, low))) return false;
  }
  return asked.length > 0 || !numbers;
}

/** `Acer palmatum` holds for `Acer palmatum var. dissectum 'Garnet'`, too; what the line leaves out may be anything. */
export function isPlant(taxon: Taxon, asked: Taxon): boolean {
  return (
    same(taxon.genus, asked.genus) &&
    (asked.epithet === undefined || same(taxon.epithet, asked.epithet) || startsWith(taxon.epithet, asked.epithet)) &&
    (asked.cultivar === undefined || same(taxon.cultivar, asked.cultivar))
  );
}

const folded = new Map<string, string>();

/** Names are compared without case and by one kind of apostrophe; there are few of them, and they come again and again. */
function fold(text: string): string {
  let known = folded.get(text);
  if (known === undefined) {
    known = text.normalize('NFC').toLowerCase().replaceAll('’', "'");
    if (folded.size > 20_000) folded.clear();
    folded.set(text, known);
  }
  return known;
}

const same = (a: string | undefined, b: string) => a !== undefined && fold(a) === fold(b);
const startsWith = (a: string | undefined, b: string) => a !== undefined && fold(a).startsWith(`${fold(b)} `);

/** Whether a line's conditions hold on the subject's day. A condition on an unknown fact doesn't. */
export function conditionsHold(row: PracticeRow, subject: Subject): boolean {
  if (row.since !== undefined && subject.day < row.since) return false;
  const { size, age, at, lat, made, collected, potted, flags, since } = row.conditions;
  if (size && !inside(subject.thick, size)) return false;
  if (at && !inside(subject.store, at)) return false;
  if (potted && subject.potted !== true) return false;
  if (age) {
    const days = subject.made === undefined ? undefined : subject.day - subject.made;
    if (!inside(days === undefined ? undefined : { low: days, high: days }, age)) return false;
  }
  if (lat) {
    const degrees = subject.lat?.(subject.day);
    if (degrees === undefined) return false;
    const north = Math.abs(degrees);
    if (!inside({ low: north, high: north }, lat)) return false;
  }
  if (made && !inParts(subject.made, made, row, subject)) return false;
  if (collected && !inParts(subject.collected, collected, row, subject)) return false;
  if (flags) {
    const given = subject.flags?.(subject.day);
    if (!given || !flags.every((flag) => given.has(flag))) return false;
  }
  if (since && !since.events.some((event) => reached(event, since.wait, row, subject))) return false;
  return true;
}

/** Both ends must lie inside; on an end is inside. */
function inside(range: Range | undefined, limit: Amount): boolean {
  if (!range) return false;
  return !below(range.low, limit) && !above(range.high, limit);
}

/** A hair's breadth for floating-point dust: 0.3 mm in 1 mm is 30 %. */
const dust = (figure: number) => 1e-9 * Math.max(1, Math.abs(figure));
export const below = (figure: number, limit: Amount): boolean =>
  limit.low !== undefined && figure < limit.low - dust(limit.low);
export const above = (figure: number, limit: Amount): boolean =>
  limit.high !== undefined && figure > limit.high + dust(limit.high);

function reached(event: string, wait: Wait, row: PracticeRow, subject: Subject): boolean {
  const day = subject.event?.(event, subject.day);
  if (day === undefined) return false;
  const first = earliestDay(wait, day, row, subject);
  return first !== undefined && subject.day >= first;
}

/** The first day a wait allows; months and years by the calendar. `undefined` in the tropics. */
function earliestDay(wait: Wait, event: number, row: PracticeRow, subject: Subject): number | undefined {
  if (wait.kind === 'amount') return later(event, Math.ceil(wait.low ?? 0), wait.lowMonths);
  const lat = subject.lat?.(subject.day);
  if (isTropical(lat)) return undefined;
  const from = dayOfYear(wait.from, 'from', row, bareYear(lat));
  return from && firstOn(from, event);
}

function inParts(day: number | undefined, parts: readonly YearPart[], row: PracticeRow, subject: Subject): boolean {
  return day !== undefined && inStretches(day, stretchesOf(parts, row, bareYear(subject.lat?.(subject.day))));
}

/** Conditions are months, seasons and days: they ask a place for its latitude only, never for its frosts. */
const bareYear = (lat: number | undefined): PlaceYear => ({ lat, growth: [], frost: () => undefined });
