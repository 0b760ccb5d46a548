import type { Day, YearDay, YearPart } from '#grammar/statement.ts';
import { addMonths, daysInMonth, fromDay, toDay } from '#grammar/values/date.ts';
import type { Practice } from './practice.ts';
import type { PracticeRow } from './practice-rows.ts';
import type { Subject } from './practice-subject.ts';
import { isSouth, isTropical, later, turned } from './practice-year.ts';

/** A day of the year as it falls at one place: already turned with its hemisphere. */
export interface DayOfYear {
  readonly month: number;
  readonly day: number;
}

/** Both ends inside; an end before its start runs over the new year. */
export interface Stretch {
  readonly from: DayOfYear;
  readonly to: DayOfYear;
}

export interface Window {
  readonly from: Day;
  readonly by: Day;
}

/**
 * What a weather station tells of a place: the day of the year by which the last spring frost is past, or up to which
 * the first of autumn has not come, with a certainty 0..1. Nothing where its years are too few.
 */
export type FrostDates = (edge: 'last-frost' | 'first-frost', certain: number) => DayOfYear | undefined;

/** The calendar of the place where a graft stands: its latitude and the edges of its seasons. */
export interface PlaceYear {
  readonly lat: number | undefined;
  readonly growth: readonly Stretch[];
  frost(edge: 'last-frost' | 'first-frost', certain: number | undefined): DayOfYear | undefined;
}

/** How a rule's own days are read: those of the shipped file turn south of the equator, the log's stand as written. */
export interface Reading {
  readonly shipped: boolean;
  readonly certain?: number | undefined;
}

export type Season = 'spring' | 'summer' | 'autumn' | 'winter';
const seasonNames: readonly Season[] = ['spring', 'summer', 'autumn', 'winter'];

/** By the calendar, spring from March (south: from September). Within 23.5° of the equator there is none. */
export function seasonOf(day: Day, lat: number | undefined): Season | undefined {
  if (isTropical(lat)) return undefined;
  const { month } = fromDay(day);
  return seasonNames[Math.floor(((month + (isSouth(lat) ? 6 : 0) + 9) % 12) / 3)];
}

/** The place's calendar as practice has it for these grafts; a station's frost dates stand over the written ones. */
export function placeYear(practice: Practice, subject: Subject, frostDates?: FrostDates): PlaceYear {
  const lat = subject.lat?.(subject.day);
  const noFrost = { lat, growth: [], frost: () => undefined };
  let growth: readonly Stretch[] | undefined;
  return {
    lat,
    get growth() {
      if (!growth) {
        const found = practice.growth(subject);
        const how = { shipped: found?.row.shipped === true };
        growth = (found?.parts ?? []).flatMap((part) => stretchOf(part, how, noFrost));
      }
      return growth;
    },
    frost(edge, certain) {
      const told = certain === undefined ? undefined : frostDates?.(edge, certain);
      if (told) return told;
      const written = practice.yearDay(edge, subject);
      return written && dayOfYear(written.at, 'from', { shipped: written.row.shipped }, noFrost);
    },
  };
}

/** A day of the year on this place's calendar; `growth` is its first day, or as an end of a span its last. */
export function dayOfYear(at: YearDay, side: 'from' | 'to', how: Reading, year: PlaceYear): DayOfYear | undefined {
  if (!('edge' in at)) return how.shipped && isSouth(year.lat) ? turned(at) : at;
  return at.edge === 'growth' ? year.growth[0]?.[side] : year.frost(at.edge, how.certain);
}

/** A month, span or season as a stretch of this place's year; `growth` may be several. None in the tropics. */
export function stretchOf(part: YearPart, how: Reading, year: PlaceYear): readonly Stretch[] {
  if (isTropical(year.lat)) return [];
  if ('growth' in part) return year.growth;
  if ('season' in part) {
    const month = ((3 * seasonNames.indexOf(part.season) + 2 + (isSouth(year.lat) ? 6 : 0)) % 12) + 1;
    const last = ((month + 1) % 12) + 1;
    return [{ from: { month, day: 1 }, to: { month: last, day: daysInMonth(2024, last) } }];
  }
  const from = dayOfYear(part.from, 'from', how, year);
  const to = dayOfYear(part.to, 'to', how, year);
  return from && to ? [{ from, to }] : [];
}

export const stretchesOf = (parts: readonly YearPart[], how: Reading, year: PlaceYear): readonly Stretch[] =>
  parts.flatMap((part) => stretchOf(part, how, year));

/** `feb-29` is the 28th in other years. */
export const inYear = ({ month, day }: DayOfYear, year: number): Day =>
  toDay(year, month, Math.min(day, daysInMonth(year, month)));

/** The first such day of the year on or after a day. */
export function firstOn(at: DayOfYear, from: Day): Day {
  const { year } = fromDay(from);
  const day = inYear(at, year);
  return day >= from ? day : inYear(at, year + 1);
}

/** The last such day of the year on or before a day. */
function lastOn(at: DayOfYear, day: Day): Day {
  const { year } = fromDay(day);
  const found = inYear(at, year);
  return found <= day ? found : inYear(at, year - 1);
}

/** The stretch a day lies in. */
export function runningOn(day: Day, stretches: readonly Stretch[]): Window | undefined {
  for (const { from, to } of stretches) {
    const start = lastOn(from, day);
    const end = firstOn(to, start);
    if (day <= end) return { from: start, by: end };
  }
  return undefined;
}

/** The first stretch to begin after a day. */
export function nextAfter(day: Day, stretches: readonly Stretch[]): Window | undefined {
  let next: Window | undefined;
  for (const { from, to } of stretches) {
    const start = firstOn(from, day + 1);
    if (!next || start < next.from) next = { from: start, by: firstOn(to, start) };
  }
  return next;
}

/** The stretch running on a day, else the next to begin. */
export const runningOrNext = (day: Day, stretches: readonly Stretch[]): Window | undefined =>
  runningOn(day, stretches) ?? nextAfter(day, stretches);

export const inStretches = (day: Day, stretches: readonly Stretch[]): boolean =>
  runningOn(day, stretches) !== undefined;

export type WaitRule = Pick<PracticeRow, 'wait' | 'till' | 'within' | 'certain' | 'shipped'>;

/**
 * From when and by when work is due after an event. Nothing where the rule speaks of
 * the seasons and the place has none. A wait with an open end is due on its first day.
 *
 * @param outside what happens where the window would begin outside `within`: it waits for the next stretch, or is dropped
 */
export function windowAfter(
  event: Day,
  rule: WaitRule,
  year: PlaceYear,
  outside: 'wait' | 'drop' = 'wait',
): Window | undefined {
  const how = { shipped: rule.shipped, certain: rule.certain };
  let window = rule.wait && waitAfter(event, rule.wait, how, year);
  if (!window) return undefined;
  if (rule.till) {
    const till = dayOfYear(rule.till, 'to', how, year);
    if (!till || isTropical(year.lat)) return undefined;
    window = { from: window.from, by: firstOn(till, window.by) };
  }
  return rule.within ? keptWithin(window, stretchesOf(rule.within, how, year), outside) : window;
}

function waitAfter(event: Day, wait: NonNullable<WaitRule['wait']>, how: Reading, year: PlaceYear): Window | undefined {
  if (wait.kind === 'amount') {
    const from =
      wait.low === undefined && wait.lowMonths === undefined
        ? event
        : later(event, Math.ceil(wait.low ?? 0), wait.lowMonths);
    if (wait.high === undefined && wait.highMonths === undefined) return { from, by: from };
    return { from, by: Math.max(from, later(event, Math.floor(wait.high ?? 0), wait.highMonths)) };
  }
  if (isTropical(year.lat)) return undefined;
  const from = dayOfYear(wait.from, 'from', how, year);
  const to = wait.to && dayOfYear(wait.to, 'to', how, year);
  if (!from || (wait.to && !to)) return undefined;
  if (!to) {
    const day = firstOn(from, event);
    return { from: day, by: day };
  }
  if (wait.to && 'edge' in wait.to && turnsOver(from, to)) return frostBefore(event, from, to);
  const stretch = [{ from, to }];
  if (isWholeYear({ from, to })) return nextAfter(event, stretch);
  const running = runningOn(event, stretch);
  return running ? { from: event, by: running.by } : nextAfter(event, stretch);
}

/** Where every day of the year lies inside, the span already running doesn't count: it is the next one that is meant. */
function isWholeYear({ from, to }: Stretch): boolean {
  const start = inYear(from, 2025);
  return firstOn(to, start) >= start + 364;
}

/** A station's first frost may lie before the span it ends: then that day is all there is. */
const turnsOver = (from: DayOfYear, to: DayOfYear): boolean => {
  const start = inYear(from, 2025);
  return firstOn(to, start) - start > 300;
};

function frostBefore(event: Day, from: DayOfYear, to: DayOfYear): Window {
  const start = firstOn(from, event);
  const frost = Math.max(event, lastOn(to, start));
  return { from: frost, by: frost };
}

/** A start outside waits for the next stretch with its width kept; an end outside is cut at the stretch's last day. */
function keptWithin(window: Window, stretches: readonly Stretch[], outside: 'wait' | 'drop'): Window | undefined {
  const running = runningOn(window.from, stretches);
  if (!running && outside === 'drop') return undefined;
  const kept = running ?? nextAfter(window.from, stretches);
  if (!kept) return undefined;
  const from = Math.max(window.from, kept.from);
  return { from, by: Math.min(from + window.by - window.from, kept.by) };
}

/**
 * The growth that counts for a graft whose swelling nobody saw: the one running on the grafting day if at least 60 days
 * of it are left, else the next; the day it begins, or the grafting day if that is later.
 */
export function growthFrom(made: Day, year: PlaceYear): Day | undefined {
  const running = runningOn(made, year.growth);
  if (running && running.by - made >= 60) return made;
  return nextAfter(made, year.growth)?.from;
}

/** The same day some months before. */
export const monthsBefore = (day: Day, months: number): Day => addMonths(day, -months);
