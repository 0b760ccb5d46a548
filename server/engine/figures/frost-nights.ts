import type { Day } from '#grammar/statement.ts';
import { least } from '#grammar/values/extremes.ts';
import { size } from '#grammar/values/intervals.ts';
import type { CheckEnv } from '../checks/case.ts';
import { untakenTill } from '../checks/frost.ts';
import { between, type StayDays, staysTill } from '../checks/place-lines.ts';
import { coverOn, placeCover } from '../cover.ts';
import type { BatchHistory, Cohort } from '../model.ts';
import type { LogWeather } from '../weather-of.ts';
import { push } from './pieces.ts';

/** Frost nights of a stretch of days, and where grafts that had not taken yet stood in them. */
export interface FrostNights {
  /** The station's own nights below 0 °C, in order; null where no station tells them. */
  readonly nights: readonly { readonly day: Day; readonly min: number }[] | null;
  readonly places: readonly PlaceNights[];
}

export interface PlaceNights {
  /** Null where nobody told the place. */
  readonly place: string | null;
  /** Runs of days on which some stood there, both ends inside, and how many at most. */
  readonly stood: readonly { readonly from: Day; readonly to: Day; readonly most: number }[];
  /** Nights below 0 °C there and how many grafts stood in them with nothing on record against frost. */
  readonly frosts: readonly { readonly day: Day; readonly min: number; readonly grafts: number }[];
  /** Nights the thermometer there was read, and the coldest of them. */
  readonly readings: number;
  readonly lowest: number | null;
}

interface Stood {
  readonly cohort: Cohort;
  readonly from: Day;
  readonly to: Day;
}

/**
 * A reading at the place stands over the station's figure; where one is below 0 °C, cover on record did not hold. The
 * station speaks for a place only as far as the log or the place's own readings say how much warmer it is there.
 */
export function frostNights(
  histories: readonly BatchHistory[],
  { from, to }: { readonly from: Day; readonly to: Day },
  env: CheckEnv,
  weather: LogWeather | undefined,
): FrostNights {
  const last = Math.min(to, env.day);
  const byPlace = new Map<string | null, Stood[]>();
  for (const { cohorts } of histories) {
    for (const cohort of cohorts) {
      for (const days of staysOf(cohort, env.day)) {
        const span = { cohort, from: Math.max(from, days.from), to: Math.min(last, days.to) };
        if (span.from > span.to) continue;
        const place = days.stay.unknown ? null : (days.stay.place ?? null);
        push(byPlace, place, span);
      }
    }
  }
  const station = weather?.climate('')?.weather.days;
  return {
    nights: station
      ? station.flatMap(({ day, min }) =>
          min !== undefined && min < 0 && day >= from && day <= last ? [{ day, min }] : [],
        )
      : null,
    places: [...byPlace]
      .map(([place, stood]) => placeNights(place, stood, { from, to: last }, env))
      .sort((a, b) => Number(a.place === null) - Number(b.place === null) || mostOf(b) - mostOf(a)),
  };
}

const mostOf = ({ stood }: PlaceNights): number => Math.max(0, ...stood.map(({ most }) => most));

/** Nobody told a place: it stood somewhere all the same. */
function staysOf(cohort: Cohort, today: Day): readonly Pick<StayDays, 'stay' | 'from' | 'to'>[] {
  const last = untakenTill(cohort, today);
  if (cohort.stays.length > 0) return staysTill(cohort, last);
  const to = Math.min(last, cohort.fail?.day ?? last, cohort.sold ?? last);
  return [{ stay: { day: cohort.madeDay, entry: cohort.made, unknown: true }, from: cohort.madeDay, to }];
}

function placeNights(
  place: string | null,
  all: readonly Stood[],
  { from, to }: { readonly from: Day; readonly to: Day },
  env: CheckEnv,
): PlaceNights {
  const stood = runsOf(all, from, to);
  if (place === null) return { place, stood, frosts: [], readings: 0, lowest: null };
  const there = (day: Day) => stood.some((run) => run.from <= day && day <= run.to);
  const read = new Map<Day, number>();
  for (const { day, min } of between(env.places.readings(place), from, to))
    if (min !== undefined && there(day)) read.set(day, Math.min(min, read.get(day) ?? min));
  const told = between(env.weather?.nights(place) ?? [], from, to).filter(({ day }) => !read.has(day));
  const cold = [
    ...[...read].map(([day, min]) => ({ day, min, here: true })),
    ...told.map((night) => ({ ...night, here: false })),
  ]
    .filter(({ min }) => min < 0)
    .sort((a, b) => a.day - b.day);
  return {
    place: env.log.names.declared(place)?.name ?? place,
    stood,
    frosts: cold.flatMap(({ day, min, here }) => {
      const grafts = bareOn(place, all, day, here, env);
      return grafts > 0 ? [{ day, min, grafts }] : [];
    }),
    readings: read.size,
    lowest: read.size > 0 ? least(read.values()) : null,
  };
}

function bareOn(place: string, all: readonly Stood[], day: Day, readHere: boolean, env: CheckEnv): number {
  if (!readHere && placeCover(place, day, env.log).has('frost-free')) return 0;
  return all
    .filter((one) => one.from <= day && day <= one.to)
    .filter(({ cohort }) => readHere || !coverOn(cohort, day, env.log).flags.has('frost-free'))
    .reduce((sum, { cohort }) => sum + size(cohort.numbers), 0);
}

function runsOf(all: readonly Stood[], from: Day, to: Day): PlaceNights['stood'] {
  const change = new Map<Day, number>();
  const add = (day: Day, count: number) => change.set(day, (change.get(day) ?? 0) + count);
  for (const one of all) {
    add(one.from, size(one.cohort.numbers));
    add(one.to + 1, -size(one.cohort.numbers));
  }
  const runs: { from: Day; to: Day; most: number }[] = [];
  let count = 0;
  for (const day of [...change.keys()].sort((a, b) => a - b)) {
    const before = count;
    count += change.get(day) ?? 0;
    if (before === 0 && count > 0) runs.push({ from: Math.max(from, day), to, most: count });
    const run = runs.at(-1);
    if (!run) continue;
    if (count === 0) run.to = Math.min(to, day - 1);
    else run.most = Math.max(run.most, count);
  }
  return runs;
}
