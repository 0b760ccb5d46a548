import type { Day } from '#grammar/statement.ts';
import { factOf } from '../facts.ts';
import type { Log } from '../log.ts';
import type { Cohort, Entry, Stay, Visit } from '../model.ts';
import { byHistory } from '../order.ts';

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
  /** Days with any line on it, in order. */
  days(place: string): readonly Day[];
  /** `check`, `open` and `treat` lines. */
  visits(place: string): readonly Visit[];
}

export function placeLinesOf(log: Log, today: Day): PlaceLines {
  // the same lists for the same lines, as what is found in them is kept by list
  const known = new WeakMap<Sorted, Sorted>();
  const of = (place: string): Sorted => {
    const all = log.names.workOn(place)?.derive(sortedOut) ?? nothing;
    const now = known.get(all) ?? tillToday(all, today);
    known.set(all, now);
    return now;
  };
  return {
    days: (place) => of(place).days,
    readings: (place) => of(place).readings,
    visits: (place) => of(place).visits,
  };
}

interface Sorted {
  readonly days: readonly Day[];
  readonly readings: readonly PlaceReading[];
  readonly visits: readonly Visit[];
}

const nothing: Sorted = { days: [], readings: [], visits: [] };

function sortedOut(all: readonly Entry[]): Sorted {
  const days: Day[] = [];
  const readings: PlaceReading[] = [];
  const visits: Visit[] = [];
  for (const entry of all) {
    const { day } = entry;
    const { statement } = entry.line;
    if (!statement || statement.idle || day === undefined) continue;
    const { verb } = statement;
    if (days.at(-1) !== day) days.push(day);
    if (verb === 'check' || verb === 'open' || verb === 'treat')
      visits.push({ entry, statement, verb, day, via: 'place' });
    if (verb !== 'reading') continue;
    const [min, max] = [degrees(entry, 'min')?.low, degrees(entry, 'max')?.high];
    readings.push({ entry, day, ...(min !== undefined ? { min } : {}), ...(max !== undefined ? { max } : {}) });
  }
  return { days, readings, visits };
}

/** Lines dated after the day computed for take no part. */
function tillToday({ days, readings, visits }: Sorted, today: Day): Sorted {
  return {
    days: days.filter((day) => day <= today),
    readings: readings.filter(({ day }) => day <= today),
    visits: visits.filter(({ day }) => day <= today),
  };
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
  readonly next?: Stay;
}

/** Where grafts stood from when to when, up to a day: their loss or sale ends it. */
export function staysTill(cohort: Cohort, day: Day): readonly StayDays[] {
  const end = Math.min(day, cohort.fail?.day ?? day, cohort.sold ?? day);
  const { stays } = cohort;
  const found: StayDays[] = [];
  for (let i = 0; i < stays.length; i++) {
    const stay = stays[i] as Stay;
    const next = stays[i + 1];
    if (stay.day > end) continue;
    if (next) found.push({ stay, from: stay.day, to: Math.min(end, next.day), next });
    else found.push({ stay, from: stay.day, to: end });
  }
  return found;
}

/** What was seen of grafts and opened over them up to a day: lines on the set or its tree, and on the place where it stood. */
export function seenTill(cohort: Cohort, day: Day, places: PlaceLines): readonly Visit[] {
  // on most places nothing is written for all that stand there
  if (cohort.stays.every(({ place }) => place === undefined || places.visits(place).length === 0))
    return upTo(cohort.named, day);
  const lists = looked.get(places) ?? new WeakMap<Cohort, readonly Visit[]>();
  looked.set(places, lists);
  let all = lists.get(cohort);
  if (!all) {
    all = everSeen(cohort, places);
    lists.set(cohort, all);
  }
  return upTo(all, day);
}

function upTo(visits: readonly Visit[], day: Day): readonly Visit[] {
  const last = visits.at(-1);
  return last === undefined || last.day <= day ? visits : visits.filter((visit) => visit.day <= day);
}

const looked = new WeakMap<PlaceLines, WeakMap<Cohort, readonly Visit[]>>();

function everSeen(cohort: Cohort, places: PlaceLines): readonly Visit[] {
  const { named } = cohort;
  const known = new Set(named.map(({ entry }) => entry));
  const placed = staysTill(cohort, Number.POSITIVE_INFINITY).flatMap(({ stay, from, to, next }) =>
    stay.place === undefined || stay.unknown
      ? []
      : between(places.visits(stay.place), from, to).filter(({ entry, day: on, verb }) => {
          if (known.has(entry)) return false;
          // what is looked at counts for the whole of its day
          if (verb === 'check') return true;
          if (on === stay.day && byHistory(entry, stay.entry) < 0) return false;
          return on !== next?.day || byHistory(entry, next.entry) < 0;
        }),
  );
  return placed.length === 0 ? named : [...named, ...placed].sort((a, b) => byHistory(a.entry, b.entry));
}

/** The last of some days in order that is not after a day. */
export function lastTill(days: readonly Day[], till: Day): Day | undefined {
  let [low, high] = [0, days.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((days[middle] as Day) <= till) low = middle + 1;
    else high = middle;
  }
  return days[low - 1];
}
