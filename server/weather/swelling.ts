import type { Day } from '#grammar/statement.ts';
import { fromDay, toDay } from '#grammar/values/date.ts';
import { greatest, least } from '#grammar/values/extremes.ts';
import { dailyDegreeDays, degreeDays } from './degree-days.ts';
import type { StationDay } from './station.ts';

/** Buds seen swelling: the warmth since the season's start, °C·d, and how many grafts showed it. */
export interface SeenSwelling {
  /** First day of the season. */
  readonly season: Day;
  readonly degreeDays: number;
  readonly count: number;
}

/** °C·d at which the buds swelled, from the earliest season to the latest. */
export interface SwellingBand {
  readonly low: number;
  readonly high: number;
  readonly seasons: number;
}

/** Seasons that have to be on record before they say more than the calendar. */
export const seasonsAsked = 5;

/** Warmth counts from 1 January, in the south from 1 July: the start of the season a day lies in. */
export function seasonStart(day: Day, south: boolean): Day {
  const { year } = fromDay(day);
  if (!south) return toDay(year, 1, 1);
  const july = toDay(year, 7, 1);
  return july <= day ? july : toDay(year - 1, 7, 1);
}

/**
 * The band of seasons on record: of each the degree-days by which half of its grafts had swelled. Of n seasons alike the
 * next falls between the lowest and the highest with a chance of n − 1 in n + 1: two of three with five seasons.
 */
export function swellingBand(seen: readonly SeenSwelling[]): SwellingBand | undefined {
  const seasons = new Map<Day, SeenSwelling[]>();
  for (const one of seen) seasons.set(one.season, [...(seasons.get(one.season) ?? []), one]);
  if (seasons.size < seasonsAsked) return undefined;
  const figures = [...seasons.values()].map(halfSwelled);
  return { low: least(figures), high: greatest(figures), seasons: seasons.size };
}

function halfSwelled(seen: readonly SeenSwelling[]): number {
  const sorted = seen.toSorted((a, b) => a.degreeDays - b.degreeDays);
  const all = sorted.reduce((sum, { count }) => sum + count, 0);
  let sum = 0;
  for (const { count, degreeDays: warmth } of sorted) {
    sum += count;
    if (sum * 2 >= all) return warmth;
  }
  return Number.NaN;
}

/**
 * From when and by when the buds are expected in a season: on the first day on which its warmth has reached the band's
 * lower and its upper end. Up to today as the station read it, from then on as its other years were on those days.
 *
 * @param days the station's, one a day, in order
 * @param start the season's first day
 * @returns nothing where a stretch of the season is missing, or no other year tells what is usual
 */
export function swellingWindow(
  band: SwellingBand,
  days: readonly StationDay[],
  base: number,
  start: Day,
  today: Day,
): { readonly from: Day; readonly by: Day } | undefined {
  const last = days.findLast(({ day, min, max }) => day <= today && min !== undefined && max !== undefined)?.day;
  const read = last === undefined || last < start ? [] : dailyDegreeDays(days, base, start, last);
  if (!read) return undefined;
  let usual: ((day: Day) => number | undefined) | undefined;
  let [sum, from] = [0, undefined as Day | undefined];
  for (let offset = 0; offset < 366; offset++) {
    usual ??= offset < read.length ? undefined : usualWarmth(days, base, start);
    const warmth = read[offset] ?? usual?.(start + offset);
    if (warmth === undefined) return undefined;
    sum += warmth;
    if (sum >= band.low - 1e-6) from ??= start + offset;
    if (sum >= band.high - 1e-6 && from !== undefined) return { from, by: start + offset };
  }
  return undefined;
}

/** Three days to each side of it, so that one odd day of a few years doesn't make a step. */
const around = 3;

/** The mean warmth of a day of the year in the years before. */
function usualWarmth(days: readonly StationDay[], base: number, start: Day): (day: Day) => number | undefined {
  const sums: number[] = [];
  const counts: number[] = [];
  for (const { day, min, max } of days) {
    if (min === undefined || max === undefined || day >= start) continue;
    const at = calendarDay(day);
    sums[at] = (sums[at] ?? 0) + degreeDays(min, max, base);
    counts[at] = (counts[at] ?? 0) + 1;
  }
  return (day) => {
    let [sum, count] = [0, 0];
    for (let near = day - around; near <= day + around; near++) {
      const at = calendarDay(near);
      sum += sums[at] ?? 0;
      count += counts[at] ?? 0;
    }
    return count === 0 ? undefined : sum / count;
  };
}

function calendarDay(on: Day): number {
  const { month, day } = fromDay(on);
  return month * 32 + day;
}
