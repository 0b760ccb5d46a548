import type { Day, Intervals, Taxon } from '#grammar/statement.ts';
import { intersect, subtract } from '#grammar/values/intervals.ts';
import type { Key, Method, Verb } from '#grammar/vocabulary.ts';
import type { AskedWood, Batch, Cohort, Entry, Found, Group, Stay, Visit } from './model.ts';
import type { Origin } from './origin.ts';

/** Lines on a place reach what stood there; asked for one cohort at a time, as most are never asked. */
export type PlaceVisits = (cohort: Growing) => readonly Visit[];

const nothing: ReadonlySet<Verb> = new Set();

/**
 * A cohort while its history is read, line by line, and the finished cohort afterwards (`asCohort`): a log may hold a
 * hundred thousand, so none is copied, and all have one shape, with `undefined` for what has not happened.
 */
export class Growing {
  readonly batch: Batch;
  numbers: Intervals;
  readonly madeDay: Day;
  readonly origin: Origin;
  /** Lines that named the set, or its tree. */
  named: Visit[];
  stays: Stay[];
  swell: Day | undefined = undefined;
  free: Day | undefined = undefined;
  take: Day | undefined = undefined;
  fail: NonNullable<Cohort['fail']> | undefined = undefined;
  sold: Day | undefined = undefined;
  soldBy: Entry | undefined = undefined;
  untied: Day | undefined = undefined;
  untiedBy: Entry | undefined = undefined;
  share = 0;
  openedBy: Entry | undefined = undefined;
  headback = 0;
  headbackBy: Entry | undefined = undefined;
  severed = 0;
  severedBy: Entry | undefined = undefined;
  /** Work that was counted on part of the set and not named. */
  vague = nothing;
  /** Takes were counted on part of the set, and some are still to be judged. */
  tallied = false;
  counted: true | undefined = undefined;
  wood: AskedWood | undefined = undefined;
  private placed: readonly Visit[] | undefined = undefined;
  private readonly placeVisits: PlaceVisits;

  constructor(numbers: Intervals, batch: Batch, origin: Origin, made: Visit, stays: Stay[], placeVisits: PlaceVisits) {
    this.batch = batch;
    this.numbers = numbers;
    this.madeDay = made.day;
    this.origin = origin;
    this.named = [made];
    this.stays = stays;
    this.placeVisits = placeVisits;
  }

  /** Part of it with a history of its own from now on. */
  part(numbers: Intervals): Growing {
    const { batch, origin, named, stays, placeVisits } = this;
    const part = new Growing(numbers, batch, origin, named[0] as Visit, stays.slice(), placeVisits);
    part.named = named.slice();
    part.swell = this.swell;
    part.free = this.free;
    part.take = this.take;
    part.fail = this.fail;
    part.sold = this.sold;
    part.soldBy = this.soldBy;
    part.untied = this.untied;
    part.untiedBy = this.untiedBy;
    part.share = this.share;
    part.openedBy = this.openedBy;
    part.headback = this.headback;
    part.headbackBy = this.headbackBy;
    part.severed = this.severed;
    part.severedBy = this.severedBy;
    part.vague = this.vague;
    part.tallied = this.tallied;
    part.counted = this.counted;
    return part;
  }

  get made(): Entry {
    return this.origin.made;
  }

  get method(): Method | undefined {
    return this.origin.method;
  }

  get scion(): Taxon | undefined {
    return this.origin.scion;
  }

  get interstem(): Taxon | undefined {
    return this.origin.interstem;
  }

  get stock(): Taxon | undefined {
    return this.origin.stock;
  }

  get group(): Group | undefined {
    return this.origin.group;
  }

  get hand(): string | undefined {
    return this.origin.hand;
  }

  get potted(): boolean {
    return this.origin.potted;
  }

  get visits(): readonly Visit[] {
    this.placed ??= this.placeVisits(this);
    return this.placed;
  }

  fact(key: Key): Found | undefined {
    return this.origin.fact(key);
  }

  get undivided(): boolean {
    return this.vague.size > 0 || this.tallied;
  }
}

/** Read to its end: to the rest of the engine it is a cohort, and no longer changes. */
export const asCohort = (growing: Growing): Cohort => growing as unknown as Cohort;

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
    const part = cohort.part(both);
    cohort.numbers = rest;
    cohorts.splice(++i, 0, part);
    inside.push(part);
  }
  return inside;
}
