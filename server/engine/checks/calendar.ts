import type { Day, YearPart } from '#grammar/statement.ts';
import type { PracticeRow, Subject } from '../practice.ts';
import { inStretches, type PlaceYear, placeYear, stretchesOf } from '../year.ts';
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
