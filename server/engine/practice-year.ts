import type { Day, YearDay, YearPart } from '#grammar/statement.ts';
import { addMonths, daysInMonth, fromDay, toDay } from '#grammar/values/date.ts';

export interface MonthDay {
  readonly month: number;
  readonly day: number;
}
export type Edge = 'growth' | 'last-frost' | 'first-frost';

/** Whose calendar a line is read by: months of the shipped file turn south of the equator, the log's don't (decided 110). */
export interface Reading {
  readonly lat?: number | undefined;
  readonly shipped: boolean;
  /** The place's own days of the year, north or south as they are; `growth` is its first day and `end` its last. */
  readonly edges?: ((edge: Edge, end: boolean) => MonthDay | undefined) | undefined;
}

/** Between the tropics there is no season a rule could speak of (practice.md, section 2). */
export const isTropical = (lat: number | undefined): boolean => lat !== undefined && Math.abs(lat) <= 23.5;
export const isSouth = (lat: number | undefined): boolean => lat !== undefined && lat < 0;

/** Six calendar months on; the last day of a month stays the last (decided 77). */
export function turned({ month, day }: MonthDay): MonthDay {
  const to = ((month + 5) % 12) + 1;
  const last = daysInMonth(2024, to);
  return { month: to, day: day >= (month === 2 ? 28 : daysInMonth(2024, month)) ? last : Math.min(day, last) };
}

const firstMonth = { spring: 3, summer: 6, autumn: 9, winter: 12 } as const;

/** Whether a day lies in a month, a span or a season; both ends are inside. Not where an edge of it isn't known. */
export function inYearPart(day: Day, part: YearPart, how: Reading): boolean {
  const ends = endsOf(part, how);
  if (!ends) return false;
  const { month, day: date } = fromDay(day);
  const at = ({ month: m, day: d }: MonthDay) => m * 31 + d;
  const [from, to, now] = [at(ends.from), at(ends.to), month * 31 + date];
  return from <= to ? from <= now && now <= to : now >= from || now <= to;
}

export const inYearParts = (day: Day, parts: readonly YearPart[], how: Reading): boolean =>
  parts.some((part) => inYearPart(day, part, how));

/** First and last day of a stretch, as they are at the place. */
export function endsOf(part: YearPart, how: Reading): { readonly from: MonthDay; readonly to: MonthDay } | undefined {
  if ('season' in part) {
    const first = ((firstMonth[part.season] + (isSouth(how.lat) ? 6 : 0) - 1) % 12) + 1;
    const last = ((first + 1) % 12) + 1;
    return { from: { month: first, day: 1 }, to: { month: last, day: daysInMonth(2024, last) } };
  }
  const from = monthDay('growth' in part ? { edge: 'growth' } : part.from, how, false);
  const to = monthDay('growth' in part ? { edge: 'growth' } : part.to, how, true);
  return from && to ? { from, to } : undefined;
}

/** A day of the year as it is at the place. */
export function monthDay(at: YearDay, how: Reading, end = false): MonthDay | undefined {
  if ('edge' in at) return how.edges?.(at.edge, end);
  return how.shipped && isSouth(how.lat) ? turned(at) : at;
}

/** The first such day of the year on or after a day; `feb-29` is the 28th in other years (decided 116). */
export function firstOn({ month, day }: MonthDay, from: Day): Day {
  const { year } = fromDay(from);
  const inYear = (y: number) => toDay(y, month, Math.min(day, daysInMonth(y, month)));
  return inYear(year) >= from ? inYear(year) : inYear(year + 1);
}

/** The last such day of the year on or before a day. */
export function lastOn({ month, day }: MonthDay, before: Day): Day {
  const { year } = fromDay(before);
  const inYear = (y: number) => toDay(y, month, Math.min(day, daysInMonth(y, month)));
  return inYear(year) <= before ? inYear(year) : inYear(year - 1);
}

/** How many days of a growing season must be left for a graft to grow in it still (decided 104). */
const enoughLeft = 60;

/**
 * The growth that unions made on a day grow in where no swelling was seen: the one running, if enough of it is left,
 * else the next. Its first day, or the grafting day if that is later.
 */
export function nextGrowth(made: Day, { from, to }: { readonly from: MonthDay; readonly to: MonthDay }): Day {
  const start = lastOn(from, made);
  const end = firstOn(to, start);
  return made <= end && end - made >= enoughLeft ? made : firstOn(from, made);
}

/** Days, or months of the calendar, after a day (decided 124). */
export const later = (day: Day, days: number, months: number | undefined): Day =>
  months !== undefined ? addMonths(day, months) : day + days;
