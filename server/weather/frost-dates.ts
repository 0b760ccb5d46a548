import type { Day } from '#grammar/statement.ts';
import { daysInMonth, fromDay, toDay } from '#grammar/values/date.ts';
import { firstFrom } from './degree-days.ts';

export interface DayOfYear {
  readonly month: number;
  readonly day: number;
}

/** A night with its minimum, °C. */
export interface Night {
  readonly day: Day;
  readonly min: number;
}

/** A station's years: the last frost of each spring and the first of each autumn, `none` where it froze in no night of it. */
export interface FrostYears {
  readonly last: readonly (DayOfYear | 'none')[];
  readonly first: readonly (DayOfYear | 'none')[];
  /** Years of which both halves are on record, and in all that is on record no night below 0 °C. */
  readonly frostFree: number;
}

/** Half a year counts with nine of ten of its nights on record (house default): a gap may hide a frost. */
const known = 0.9;

/**
 * Frost years from nights in order. A frost is a night below 0.0 °C on the screen. Spring ends with June, in the south
 * with December: halves of the calendar, so that a winter's frost counts for the year it fell in.
 */
export function frostYears(nights: readonly Night[], south: boolean): FrostYears {
  const last: FrostYears['last'][number][] = [];
  const first: FrostYears['first'][number][] = [];
  let [full, froze] = [0, false];
  const [start, end] = [nights[0], nights.at(-1)];
  if (!start || !end) return { last, first, frostFree: 0 };
  for (let year = fromDay(start.day).year; year <= fromDay(end.day).year; year++) {
    const halves = [half(nights, year, 1), half(nights, year, 7)] as const;
    const [spring, autumn] = south ? [halves[1], halves[0]] : halves;
    if (spring.counts) last.push(dayOf(spring.frosts.at(-1)));
    if (autumn.counts) first.push(dayOf(autumn.frosts[0]));
    if (spring.counts && autumn.counts) full++;
    froze ||= spring.frosts.length + autumn.frosts.length > 0;
  }
  return { last, first, frostFree: froze ? 0 : full };
}

function half(nights: readonly Night[], year: number, month: 1 | 7): { counts: boolean; frosts: readonly Night[] } {
  const from = toDay(year, month, 1);
  const to = month === 1 ? toDay(year, 7, 1) : toDay(year + 1, 1, 1);
  const found = nights.slice(firstFrom(nights, from), firstFrom(nights, to));
  return { counts: found.length >= known * (to - from), frosts: found.filter(({ min }) => min < 0) };
}

function dayOf(night: Night | undefined): DayOfYear | 'none' {
  if (!night) return 'none';
  const { month, day } = fromDay(night.day);
  return { month, day };
}

/** Years asked for: for the middle day a few, for a day passed with more certainty ten; both are house defaults. */
export const yearsAsked = (certain: number): number => (certain <= 0.5 ? 3 : 10);

/**
 * The day of the year by which the last spring frost is past with a certainty, or the last day that is still free of
 * the first autumn frost with it. Of n years alike, the next one's last frost comes no later than the i-th in their
 * order with a chance of i in n + 1: the first day whose chance is enough is taken, so it is always a day on record.
 * (Order statistics, distribution-free; from memory.)
 *
 * @param certain 0..1
 * @returns nothing where the years are too few; a half that never froze gives its own edge, 1 January or 31 December
 */
export function frostDate(
  years: FrostYears,
  edge: 'last' | 'first',
  certain: number,
  south: boolean,
): DayOfYear | undefined {
  const days = years[edge];
  const count = days.length;
  const rank = Math.max(1, Math.ceil(certain * (count + 1) - 1e-9));
  if (count < yearsAsked(certain) || rank > count) return undefined;
  const frosts = days.filter((day) => day !== 'none').sort((a, b) => a.month - b.month || a.day - b.day);
  // years without a frost stand before all others in spring, and after them in autumn
  if (edge === 'last')
    return frosts[rank - 1 - (count - frosts.length)] ?? (south ? { month: 7, day: 1 } : { month: 1, day: 1 });
  const frost = frosts[count - rank];
  return frost ? dayBefore(frost) : south ? { month: 6, day: 30 } : { month: 12, day: 31 };
}

/** In a year without 29 February. */
function dayBefore({ month, day }: DayOfYear): DayOfYear {
  if (day > 1) return { month, day: day - 1 };
  const before = month === 1 ? 12 : month - 1;
  return { month: before, day: daysInMonth(2023, before) };
}
