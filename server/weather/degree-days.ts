import type { Day } from '#grammar/statement.ts';
import type { StationDay } from './station.ts';

/**
 * Degree-days of one day, °C·d, by the single-sine method: the day's temperature as one wave between its minimum and its
 * maximum, and of it the part over the base. No upper edge. Baskerville & Emin 1969, Ecology 50:514-517 (from memory).
 */
export function degreeDays(min: number, max: number, base: number): number {
  const mean = (min + max) / 2;
  if (min >= base) return mean - base;
  if (max <= base) return 0;
  const swing = (max - min) / 2;
  const rise = Math.asin(Math.min(1, Math.max(-1, (base - mean) / swing)));
  return Math.max(0, ((mean - base) * (Math.PI / 2 - rise) + swing * Math.cos(rise)) / Math.PI);
}

/** Days that may be missing in a row; longer than a week nobody knows how warm it was (house default). */
const longestGap = 7;

/**
 * Degree-days of each day of a span, both ends in it; a few days missing are as warm as the days around them. Nothing
 * where more are missing, or where the station hadn't begun or has ended.
 *
 * @param days one a day, in order
 */
export function dailyDegreeDays(days: readonly StationDay[], base: number, from: Day, to: Day): number[] | undefined {
  const found: number[] = [];
  let before: number | undefined;
  for (let i = firstFrom(days, from); i < days.length && found.length <= to - from; i++) {
    const { day, min, max } = days[i] as StationDay;
    if (min === undefined || max === undefined) continue;
    const now = degreeDays(min, max, base);
    const missing = Math.min(day, to + 1) - from - found.length;
    if (missing > longestGap) return undefined;
    for (let gap = 0; gap < missing; gap++) found.push(before === undefined ? now : (before + now) / 2);
    if (day <= to) found.push(now);
    before = now;
  }
  return found.length === to - from + 1 ? found : undefined;
}

/** Their sum from one day to another, both ends in it. */
export function sumOfDegreeDays(days: readonly StationDay[], base: number, from: Day, to: Day): number | undefined {
  return dailyDegreeDays(days, base, from, to)?.reduce((sum, one) => sum + one, 0);
}

/** Index of the first day not before a day. */
export function firstFrom(days: readonly { readonly day: Day }[], from: Day): number {
  let [low, high] = [0, days.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((days[middle] as { readonly day: Day }).day < from) low = middle + 1;
    else high = middle;
  }
  return low;
}
