import type { Day } from '#grammar/statement.ts';
import type { WorkItem } from '../model.ts';

/** A week, Monday to Sunday; the first begins on the day computed for. */
export interface LevelWeek {
  readonly from: Day;
  readonly to: Day;
  /** Minutes there are: of a week begun late, its days' share. */
  readonly minutes: number;
  readonly tasks: readonly LevelTask[];
  /** Minutes of its tasks. */
  readonly taken: number;
  /** Minutes of work that had to be done by the end of this week and fits nowhere; 0 where all fits. */
  readonly short: number;
}

/** A piece of work larger than a week is spread over the weeks of its window. */
export interface LevelTask {
  readonly item: WorkItem;
  readonly count: number;
  readonly minutes: number;
}

export interface Levelled {
  /** From the week of the day on, as far as there is work. */
  readonly weeks: readonly LevelWeek[];
  /** What can't be done inside its window in the hours there are. */
  readonly short: readonly LevelTask[];
  /** Minutes, of all that is short. */
  readonly shortage: number;
}

export interface Hours {
  readonly day: Day;
  /** A week, 0 and up. */
  readonly hours: number;
  /** For all of an item; where none are given, those its practice tells. */
  readonly minutes?: (item: WorkItem) => number;
}

/**
 * Gives every piece of work a week inside its window, the earliest deadline first, in the hours a week there are. What
 * is late already is due this week. A piece is kept in one week where that leaves nothing more undone than spreading it.
 */
export function levelWork(work: readonly WorkItem[], { day, hours, minutes = ownMinutes }: Hours): Levelled {
  const known = work.filter(({ count }) => count > 0).toSorted(byDeadline);
  const whole = levelled(known, day, hours, minutes, true);
  if (whole.shortage === 0) return whole;
  const spread = levelled(known, day, hours, minutes, false);
  return spread.shortage < whole.shortage - dust ? spread : whole;
}

const ownMinutes = (item: WorkItem): number => item.minutes ?? 0;

function levelled(
  work: readonly WorkItem[],
  day: Day,
  hours: number,
  minutes: (item: WorkItem) => number,
  keepWhole: boolean,
): Levelled {
  const waiting = work.map(
    (item): Waiting => ({ item, each: Math.max(0, minutes(item)) / item.count, left: item.count }),
  );
  const weeks = weeksFrom(day, hours, Math.max(day, ...work.map(({ by }) => by)));
  const short: LevelTask[] = [];
  for (const week of weeks) {
    const ready = waiting.filter(({ left, item }) => left > 0 && item.from <= week.to);
    for (const one of ready) fill(week, one, keepWhole);
    for (const one of ready) {
      if (one.left === 0 || one.item.by > week.to) continue;
      short.push({ item: one.item, count: one.left, minutes: one.left * one.each });
      week.short += one.left * one.each;
      one.left = 0;
    }
  }
  const last = weeks.findLastIndex((week) => week.tasks.length > 0 || week.short > 0);
  return { weeks: weeks.slice(0, last + 1), short, shortage: short.reduce((sum, task) => sum + task.minutes, 0) };
}

interface Filling {
  readonly from: Day;
  readonly to: Day;
  readonly minutes: number;
  readonly tasks: LevelTask[];
  taken: number;
  short: number;
}

interface Waiting {
  readonly item: WorkItem;
  /** Minutes a graft. */
  readonly each: number;
  /** Grafts still without a week. */
  left: number;
}

const weekDays = 7;

/** Weeks from the one of a day to that of the last deadline. */
function weeksFrom(day: Day, hours: number, last: Day): Filling[] {
  // day 0, 1970-01-01, was a Thursday
  const monday = day - ((((day + 3) % weekDays) + weekDays) % weekDays);
  const full = Math.max(0, hours) * 60;
  return Array.from({ length: Math.floor((last - monday) / weekDays) + 1 }, (_, i) => {
    const to = monday + i * weekDays + weekDays - 1;
    const from = Math.max(day, monday + i * weekDays);
    return { from, to, minutes: (full * (to - from + 1)) / weekDays, tasks: [], taken: 0, short: 0 };
  });
}

/** Floating-point dust: three times 20 minutes fill an hour. */
const dust = 1e-6;

function fill(week: Filling, one: Waiting, keepWhole: boolean): void {
  const room = week.minutes - week.taken + dust;
  const count = one.each === 0 ? one.left : Math.min(one.left, Math.floor(room / one.each));
  if (count <= 0 || (keepWhole && count < one.left && fitsLater(week, one))) return;
  week.tasks.push({ item: one.item, count, minutes: count * one.each });
  week.taken += count * one.each;
  one.left -= count;
}

/** A whole week of its window is still to come, and would hold all of it. */
function fitsLater(week: Filling, { item, each, left }: Waiting): boolean {
  const fullWeek = (week.minutes * weekDays) / (week.to - week.from + 1);
  return item.by > week.to && each * left <= fullWeek + dust;
}

function byDeadline(a: WorkItem, b: WorkItem): number {
  return (
    a.by - b.by ||
    a.from - b.from ||
    a.batch.name.localeCompare(b.batch.name, 'en', { numeric: true }) ||
    (a.numbers[0] ?? 0) - (b.numbers[0] ?? 0)
  );
}
