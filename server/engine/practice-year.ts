import type { Day } from '#grammar/statement.ts';
import { addMonths, daysInMonth } from '#grammar/values/date.ts';

/** Between the tropics there is no season a rule could speak of. */
export const isTropical = (lat: number | undefined): boolean => lat !== undefined && Math.abs(lat) <= 23.5;
export const isSouth = (lat: number | undefined): boolean => lat !== undefined && lat < 0;

/** Six calendar months on; the last day of a month stays the last. */
export function turned({ month, day }: { readonly month: number; readonly day: number }): {
  month: number;
  day: number;
} {
  const to = ((month + 5) % 12) + 1;
  const last = daysInMonth(2024, to);
  return { month: to, day: day >= (month === 2 ? 28 : daysInMonth(2024, month)) ? last : Math.min(day, last) };
}

/** Days, or months of the calendar, after a day. */
export const later = (day: Day, days: number, months: number | undefined): Day =>
  months !== undefined ? addMonths(day, months) : day + days;
