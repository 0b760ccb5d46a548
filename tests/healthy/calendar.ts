import type { Day } from '#grammar/statement.ts';
import { addMonths, daysInMonth, fromDay, toDay } from '#grammar/values/date.ts';

/** `mar-01`: a day of the year as `practice.graft` writes it, for a northern nursery. */
export type YearDay = `${string}-${string}`;

const months = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];

/**
 * The year of one nursery. South of the equator every day of `practice.graft` lies six calendar months on, the last day of a month
 * staying the last.
 */
export class Calendar {
  readonly lat: number | undefined;
  constructor(lat: number | undefined) {
    this.lat = lat;
  }

  get #south(): boolean {
    return (this.lat ?? 0) < 0;
  }

  /** Within 23.5° of the equator no rule with a season speaks. */
  get tropical(): boolean {
    return Math.abs(this.lat ?? 90) < 23.5;
  }

  /** A site that says no latitude is held to the later of the two days. */
  get lastFrost(): YearDay {
    return Math.abs(this.lat ?? 90) < 40 ? 'apr-30' : 'may-15';
  }

  /** The first such day on or after another. */
  next(yearDay: YearDay, from: Day): Day {
    const { year } = fromDay(from);
    for (const one of [year - 1, year, year + 1]) {
      const day = this.#at(one, yearDay);
      if (day >= from) return day;
    }
    return this.#at(year + 2, yearDay);
  }

  within(day: Day, first: YearDay, last: YearDay): boolean {
    return this.next(last, day) < this.next(first, day + 1);
  }

  /** 1..12 as a northern nursery counts: in the south July is a month of winter, 1. */
  month(day: Day): number {
    const { month } = fromDay(day);
    return this.#south ? ((month + 5) % 12) + 1 : month;
  }

  /** First and last day of the month that a northern nursery calls so, in a year. */
  monthOf(year: number, month: number): readonly [Day, Day] {
    const name = months[month - 1] ?? '';
    return [this.#at(year, `${name}-01`), this.#at(year, `${name}-${daysInMonth(year, month)}`)];
  }

  #at(year: number, yearDay: YearDay): Day {
    const [name = '', day] = yearDay.split('-');
    const month = months.indexOf(name) + 1;
    const first = toDay(year, month, 1);
    const there = fromDay(this.#south ? addMonths(first, 6) : first);
    const last = daysInMonth(there.year, there.month);
    const isLast = Number(day) >= daysInMonth(year, month);
    return toDay(there.year, there.month, isLast ? last : Math.min(Number(day), last));
  }
}
