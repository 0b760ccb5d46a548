import type { Day } from '../statement.ts';

const daysBefore = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334];
const leap = (year: number) => (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;

export function daysInMonth(year: number, month: number): number {
  return month === 2 ? (leap(year) ? 29 : 28) : [4, 6, 9, 11].includes(month) ? 30 : 31;
}

/** Days since 1970-01-01 in the proleptic Gregorian calendar; month 1..12, day within the month. */
export function toDay(year: number, month: number, day: number): Day {
  const before = year - 1;
  const days = before * 365 + Math.floor(before / 4) - Math.floor(before / 100) + Math.floor(before / 400);
  const found = days - 719162 + (daysBefore[month - 1] ?? 0) + (month > 2 && leap(year) ? 1 : 0) + day - 1;
  // said to be whole, it is kept as it is; what comes of a division is kept in a box of its own, in every line it stands in
  return found | 0;
}

export interface DateParts {
  readonly year: number;
  readonly month: number;
  readonly day: number;
}

/** Year, month and day of a day number (after Howard Hinnant, "chrono-compatible low-level date algorithms"). */
export function fromDay(days: Day): DateParts {
  const shifted = days + 719468;
  const era = Math.floor(shifted / 146097);
  const dayOfEra = shifted - era * 146097;
  const yearOfEra = Math.floor(
    (dayOfEra - Math.floor(dayOfEra / 1460) + Math.floor(dayOfEra / 36524) - Math.floor(dayOfEra / 146096)) / 365,
  );
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const shiftedMonth = Math.floor((5 * dayOfYear + 2) / 153);
  const month = shiftedMonth < 10 ? shiftedMonth + 3 : shiftedMonth - 9;
  return {
    year: yearOfEra + era * 400 + (month <= 2 ? 1 : 0),
    month,
    day: dayOfYear - Math.floor((153 * shiftedMonth + 2) / 5) + 1,
  };
}

export function isoDay(days: Day): string {
  const { year, month, day } = fromDay(days);
  return `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}`;
}

export const two = (part: number): string => String(part).padStart(2, '0');

/** A full ISO date, nothing else: `2026-10-09`. */
export function parseIso(text: string): Day | undefined {
  const parts = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  return parts ? dayOf(Number(parts[1]), Number(parts[2]), Number(parts[3])) : undefined;
}

/** `undefined` where there is no such day. */
export function dayOf(year: number, month: number, day: number): Day | undefined {
  if (year < 1 || month < 1 || month > 12 || day < 1 || day > daysInMonth(year, month)) return undefined;
  return toDay(year, month, day);
}

export const monthNames = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const;

/** Months added by the calendar; the day past a month's end becomes its last. */
export function addMonths(days: Day, months: number): Day {
  const { year, month, day } = fromDay(days);
  const index = year * 12 + month - 1 + months;
  const [toYear, toMonth] = [Math.floor(index / 12), (((index % 12) + 12) % 12) + 1];
  return toDay(toYear, toMonth, Math.min(day, daysInMonth(toYear, toMonth)));
}
