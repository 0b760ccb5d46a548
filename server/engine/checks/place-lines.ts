import type { Day } from '#grammar/statement.ts';
import { factOf } from '../facts.ts';
import type { Log } from '../log.ts';
import type { Cohort, Entry, Stay } from '../model.ts';

/** What a thermometer at a place showed, °C. */
export interface PlaceReading {
  readonly entry: Entry;
  readonly day: Day;
  readonly min?: number;
  readonly max?: number;
}

/** Lines on a place, sorted out once a place: what stood there is looked up by its days, however many readings there are. */
export interface PlaceLines {
  /** In order of the history; readings that slipped or can't be read are left out. */
  readings(place: string): readonly PlaceReading[];
  /** `check` and `open` lines. */
  visits(place: string): readonly { readonly entry: Entry; readonly day: Day }[];
}

export function placeLinesOf(log: Log, today: Day): PlaceLines {
  const known = new Map<string, { readings: PlaceReading[]; visits: { entry: Entry; day: Day }[] }>();
  const of = (place: string) => {
    const found = known.get(place);
    if (found) return found;
    const lines = { readings: [] as PlaceReading[], visits: [] as { entry: Entry; day: Day }[] };
    for (const entry of log.names.workOn(place)?.all ?? []) {
      const statement = entry.line.statement;
      if (!statement || statement.idle || entry.day === undefined || entry.day > today) continue;
      if (statement.verb === 'check' || statement.verb === 'open') lines.visits.push({ entry, day: entry.day });
      if (statement.verb !== 'reading') continue;
      const [min, max] = [degrees(entry, 'min')?.low, degrees(entry, 'max')?.high];
      lines.readings.push({
        entry,
        day: entry.day,
        ...(min !== undefined ? { min } : {}),
        ...(max !== undefined ? { max } : {}),
      });
    }
    known.set(place, lines);
    return lines;
  };
  return { readings: (place) => of(place).readings, visits: (place) => of(place).visits };
}

function degrees(entry: Entry, key: 'min' | 'max') {
  const fact = factOf(entry.line.statement, key);
  return fact && !fact.lost && fact.value.kind === 'amount' ? fact.value : undefined;
}

/** The part of a sorted list from one day to another, both inside. */
export function between<T extends { readonly day: Day }>(list: readonly T[], from: Day, to: Day): readonly T[] {
  let [low, high] = [0, list.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((list[middle] as T).day < from) low = middle + 1;
    else high = middle;
  }
  let end = low;
  while (end < list.length && (list[end] as T).day <= to) end++;
  return list.slice(low, end);
}

export interface StayDays {
  readonly stay: Stay;
  readonly from: Day;
  /** The last day it stood there, the day it was moved on being one of both. */
  readonly to: Day;
}

/** Where grafts stood from when to when, up to a day: their loss or sale ends it. */
export function staysTill(cohort: Cohort, day: Day): readonly StayDays[] {
  const end = Math.min(day, cohort.fail?.day ?? day, cohort.sold ?? day);
  return cohort.stays.flatMap((stay, i) => {
    const to = Math.min(end, cohort.stays[i + 1]?.day ?? end);
    return stay.day <= end ? [{ stay, from: stay.day, to }] : [];
  });
}
