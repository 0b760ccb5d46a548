import type { Day } from '#grammar/statement.ts';

/** One figure a day, °C. */
export interface Daily {
  readonly day: Day;
  readonly figure: number;
}

/** How much warmer a place is than its station. */
export interface Offset {
  /** °C; below 0 the place is the colder one. */
  readonly degrees: number;
  /** Days on which both were read; absent where the log says how much it is. */
  readonly days?: number;
}

/** House default: of one day or two no middle can be told. */
const fewest = 3;

/**
 * How much warmer a place is than its station: the median of the differences on the days that have both, so that a day
 * misread doesn't count for more than a day. Nothing where there are too few of them.
 */
export function learnedOffset(place: readonly Daily[], station: ReadonlyMap<Day, number>): Offset | undefined {
  const differences = place.flatMap(({ day, figure }) => {
    const there = station.get(day);
    return there === undefined ? [] : [figure - there];
  });
  if (differences.length < fewest) return undefined;
  return { degrees: tenth(median(differences)), days: differences.length };
}

/** Of an even number of figures the middle between both. */
export function median(figures: readonly number[]): number {
  const sorted = figures.toSorted((a, b) => a - b);
  const half = sorted.length >> 1;
  const upper = sorted[half] ?? Number.NaN;
  return sorted.length % 2 === 1 ? upper : ((sorted[half - 1] ?? Number.NaN) + upper) / 2;
}

/** Thermometers are read to a tenth; what lies behind it is the arithmetic's. */
export const tenth = (figure: number): number => Math.round(figure * 10) / 10;
