import type { Day, YearDay, YearPart } from '#grammar/statement.ts';
import { addMonths, daysInMonth, fromDay, toDay } from '#grammar/values/date.ts';

/** Whose calendar a line is read by: months of the shipped file turn south of the equator, the log's don't (decided 110). */
export interface Reading {
  readonly lat?: number | undefined;
  readonly shipped: boolean;
}

/** Between the tropics there is no season a rule could speak of (practice.md, section 2). */
export const isTropical = (lat: number | undefined): boolean => lat !== undefined && Math.abs(lat) <= 23.5;
export const isSouth = (lat: number | undefined): boolean => lat !== undefined && lat < 0;

/** Six calendar months on; the last day of a month stays the last (decided 77). */
export function turned(day: { readonly month: number; readonly day: number }): { month: number; day: number } {
  const month = ((day.month + 5) % 12) + 1;
  const last = day.day >= (day.month === 2 ? 28 : daysInMonth(2024, day.month));
  return { month, day: last ? daysInMonth(2024, month) : Math.min(day.day, daysInMonth(2024, month)) };
}

const firstMonth = { spring: 3, summer: 6, autumn: 9, winter: 12 } as const;

/** Whether a day lies in a month, a span or a season. Parts with edges that only the place knows are not asked here. */
export function inYearPart(day: Day, part: YearPart, how: Reading): boolean {
  if ('growth' in part) return false;
  const { month, day: date } = fromDay(day);
  if ('season' in part) {
    const first = firstMonth[part.season] + (isSouth(how.lat) ? 6 : 0);
    return (month - first + 24) % 12 < 3;
  }
  if ('edge' in part.from || 'edge' in part.to) return false;
  const turn = how.shipped && isSouth(how.lat);
  const from = turn ? turned(part.from) : part.from;
  const to = turn ? turned(part.to) : part.to;
  const [a, b, c] = [from.month * 31 + from.day, to.month * 31 + to.day, month * 31 + date];
  return a <= b ? a <= c && c <= b : c >= a || c <= b;
}

/** The first such day of the year on or after a day; `feb-29` is the 28th in other years (decided 116). */
export function firstYearDay(at: YearDay, from: Day, how: Reading): Day | undefined {
  if ('edge' in at) return undefined;
  const { month, day } = how.shipped && isSouth(how.lat) ? turned(at) : at;
  const { year } = fromDay(from);
  const in_ = (y: number) => toDay(y, month, Math.min(day, daysInMonth(y, month)));
  return in_(year) >= from ? in_(year) : in_(year + 1);
}

/** Days or calendar months after a day (decided 124). */
export const later = (day: Day, days: number, months: number | undefined): Day =>
  months !== undefined ? addMonths(day, months) : day + days;
