import type { Day, Intervals } from '#grammar/statement.ts';
import { intersect, subtract } from '#grammar/values/intervals.ts';
import type { Verb } from '#grammar/vocabulary.ts';
import type { Batch, Cohort, Entry, Stay, Visit } from './model.ts';
import type { Origin } from './origin.ts';

/** A cohort while its history is being read, line by line. */
export interface Growing {
  numbers: Intervals;
  readonly origin: Origin;
  readonly madeDay: Day;
  /** Lines that named the set, or its tree; those on its place are laid in when they are asked for. */
  visits: Visit[];
  stays: Stay[];
  swell?: Day;
  free?: Day;
  take?: Day;
  fail?: NonNullable<Cohort['fail']>;
  sold?: Day;
  soldBy?: Entry;
  untied?: Day;
  untiedBy?: Entry;
  share: number;
  openedBy?: Entry;
  headback: number;
  headbackBy?: Entry;
  severed: number;
  severedBy?: Entry;
  /** Work that was counted on part of the set and not named. */
  vague: ReadonlySet<Verb>;
  /** Takes were counted on part of the set, and some are still to be judged. */
  tallied?: true;
  counted?: true;
}

export function newCohort(numbers: Intervals, origin: Origin, madeDay: Day): Growing {
  return { numbers, origin, madeDay, visits: [], stays: [], share: 0, headback: 0, severed: 0, vague: nothing };
}

const nothing: ReadonlySet<Verb> = new Set();

/**
 * Splits cohorts so that each lies inside the numbers or outside them, and returns those inside. Cohorts that lie
 * inside stay themselves; of a split one the part inside is new and gets its own place in the list.
 */
export function splitOff(cohorts: Growing[], numbers: Intervals): Growing[] {
  const inside: Growing[] = [];
  const [low, high] = [numbers[0] ?? 0, numbers.at(-1) ?? -1];
  for (let i = 0; i < cohorts.length; i++) {
    const cohort = cohorts[i] as Growing;
    if ((cohort.numbers[0] as number) > high || (cohort.numbers.at(-1) as number) < low) continue;
    const both = intersect(cohort.numbers, numbers);
    if (both.length === 0) continue;
    const rest = subtract(cohort.numbers, both);
    if (rest.length === 0) {
      inside.push(cohort);
      continue;
    }
    const part: Growing = { ...cohort, numbers: both, visits: cohort.visits.slice(), stays: cohort.stays.slice() };
    cohort.numbers = rest;
    cohorts.splice(++i, 0, part);
    inside.push(part);
  }
  return inside;
}

export const isUndivided = (cohort: Growing): boolean => cohort.vague.size > 0 || cohort.tallied === true;

/** Lines on a place reach what stood there; asked for one cohort at a time, as most are never asked. */
export type PlaceVisits = (cohort: Growing) => readonly Visit[];

export function finish(growing: Growing, batch: Batch, placeVisits: PlaceVisits): Cohort {
  const { numbers, origin, madeDay, stays, swell, free, take, fail, sold, untied, share, headback, counted } = growing;
  const { made, method, scion, interstem, stock, group, hand, potted, fact } = origin;
  let visits: readonly Visit[] | undefined;
  return {
    batch,
    numbers,
    made,
    madeDay,
    ...(method ? { method } : {}),
    ...(scion ? { scion } : {}),
    ...(interstem ? { interstem } : {}),
    ...(stock ? { stock } : {}),
    ...(group ? { group } : {}),
    ...(hand ? { hand } : {}),
    potted,
    get visits() {
      visits ??= placeVisits(growing);
      return visits;
    },
    named: growing.visits,
    stays,
    fact,
    ...(swell === undefined ? {} : { swell }),
    ...(free === undefined ? {} : { free }),
    ...(take === undefined ? {} : { take }),
    ...(fail ? { fail } : {}),
    ...(sold === undefined ? {} : { sold }),
    ...(untied === undefined ? {} : { untied }),
    share,
    headback,
    undivided: isUndivided(growing),
    ...(counted ? { counted } : {}),
  };
}
