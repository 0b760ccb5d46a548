import type { Day } from '#grammar/statement.ts';
import { type FrostYears, frostYears, type Night } from './frost-dates.ts';
import { type Offset, tenth } from './minima.ts';
import type { StationDay } from './station.ts';

/** A station as a place has it. */
export interface Source {
  /** One a day, in order. */
  readonly days: readonly StationDay[];
  /** How much warmer the place is, by night and by day; absent where nobody can tell. */
  readonly min?: Offset;
  readonly max?: Offset;
}

export interface HotDay {
  readonly day: Day;
  readonly max: number;
}

/** What stations tell of one place. */
export interface PlaceWeather {
  /** Nights with their minima there, in order; none where the offset isn't known. */
  readonly nights: readonly Night[];
  readonly heat: readonly HotDay[];
  /** Frosts of its years; by the station itself where the offset isn't known. */
  readonly years: FrostYears;
  /** The station's own days: a clock that needs no offset, as a season is only ever held against others of it. */
  readonly days: readonly StationDay[];
}

/** Several files follow each other, a year in each perhaps: of a day that stands in two the first holds. */
export function placeWeather(sources: readonly Source[], south: boolean): PlaceWeather {
  const nights = once(() => merged(sources, ({ days, min }) => (min ? nightsOf(days, min.degrees) : [])));
  const heat = once(() => merged(sources, ({ days, max }) => (max ? heatOf(days, max.degrees) : [])));
  const own = (): readonly Night[] =>
    nights().length > 0 ? nights() : merged(sources, ({ days }) => nightsOf(days, 0));
  const years = once(() => frostYears(own(), south));
  const all = once(() => merged(sources, ({ days }) => days));
  return {
    get nights() {
      return nights();
    },
    get heat() {
      return heat();
    },
    get years() {
      return years();
    },
    get days() {
      return all();
    },
  };
}

/** Worked out when it is first asked for: an edit asks for the weather of a place and may not need its nights. */
function once<T extends object>(work: () => T): () => T {
  let known: T | undefined;
  return () => {
    known ??= work();
    return known;
  };
}

const nightsOf = (days: readonly StationDay[], offset: number): Night[] =>
  days.flatMap(({ day, min }) => (min === undefined ? [] : [{ day, min: tenth(min + offset) }]));

const heatOf = (days: readonly StationDay[], offset: number): HotDay[] =>
  days.flatMap(({ day, max }) => (max === undefined ? [] : [{ day, max: tenth(max + offset) }]));

function merged<T extends { readonly day: Day }>(
  sources: readonly Source[],
  of: (source: Source) => readonly T[],
): readonly T[] {
  const [only, ...more] = sources;
  if (!only) return [];
  if (more.length === 0) return of(only);
  const found = new Map<Day, T>();
  for (const source of sources) for (const one of of(source)) if (!found.has(one.day)) found.set(one.day, one);
  return [...found.values()].sort((a, b) => a.day - b.day);
}
