import type { Day, YearPart } from '#grammar/statement.ts';
import type { PracticeRow, Subject, Waiting } from '../practice.ts';
import { later } from '../practice-year.ts';
import { inStretches, type PlaceYear, placeYear, stretchesOf, windowAfter } from '../year.ts';
import type { CheckEnv } from './case.ts';

/** The year at a place for some grafts: a station's frost dates stand over the written ones. */
export function yearAt(subject: Subject, env: CheckEnv, place?: string): PlaceYear {
  return placeYear(env.practice, subject, place === undefined ? undefined : env.weather?.frostDates(place));
}

/** Whether a day lies in a rule's part of the year, as the rule means it at the place. */
export function inParts(
  day: Day,
  parts: readonly YearPart[],
  row: PracticeRow,
  subject: Subject,
  env: CheckEnv,
  place?: string,
): boolean {
  return inStretches(day, stretchesOf(parts, row, yearAt(subject, env, place)));
}

/** The first day a rule allows after its event; nothing where it speaks of the seasons and the place has none. */
export function firstAllowed(
  event: Day,
  { row, wait }: Waiting,
  subject: Subject,
  env: CheckEnv,
  place?: string,
): Day | undefined {
  // days on need no calendar
  if (wait.kind === 'amount' && !row.within) return later(event, Math.ceil(wait.low ?? 0), wait.lowMonths);
  return windowAfter(event, row, yearAt(subject, env, place))?.from;
}
