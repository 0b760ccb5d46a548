import type { Day, Intervals } from '#grammar/statement.ts';
import { intersect, size, subtract } from '#grammar/values/intervals.ts';
import type { Cohort, Tally } from './model.ts';

/** What counting needs of a cohort, finished or still growing. */
export interface Judged {
  readonly numbers: Intervals;
  readonly take?: Day | undefined;
  readonly fail?: Cohort['fail'] | undefined;
  readonly counted?: true | undefined;
}

/**
 * Grafts of which some were counted as taken or lost and not named, together with all sets that share a count with
 * them. Within a pool only numbers are known, never which.
 */
export interface Pool<C> {
  readonly cohorts: readonly C[];
  readonly tallies: readonly Tally[];
  readonly size: number;
}

export function poolsOf<C extends Judged>(cohorts: readonly C[], tallies: readonly Tally[]): Pool<C>[] {
  let pools: { cohorts: Set<C>; tallies: Tally[] }[] = [];
  for (const tally of tallies) {
    const touched = new Set(cohorts.filter((cohort) => intersect(cohort.numbers, tally.over).length > 0));
    if (touched.size === 0) continue;
    const joined = pools.filter((pool) => [...pool.cohorts].some((cohort) => touched.has(cohort)));
    const own = { cohorts: touched, tallies: [tally] };
    for (const pool of joined) {
      for (const cohort of pool.cohorts) own.cohorts.add(cohort);
      own.tallies.unshift(...pool.tallies);
    }
    pools = [...pools.filter((pool) => !joined.includes(pool)), own];
  }
  return pools.map((pool) => {
    const members = [...pool.cohorts];
    return {
      cohorts: members,
      tallies: pool.tallies,
      size: members.reduce((sum, cohort) => sum + size(cohort.numbers), 0),
    };
  });
}

/** How many of a set were surely counted so, unnamed: of a count that reaches beyond the set only what can't lie outside. */
export function countedIn(tallies: readonly Tally[], verb: Tally['verb'], set: Intervals, named: Intervals): number {
  let sum = 0;
  for (const tally of tallies) {
    if (tally.verb !== verb) continue;
    const over = subtract(tally.over, named);
    const outside = size(subtract(over, set));
    sum += Math.max(0, Math.min(tally.count, size(over)) - outside);
  }
  return Math.min(sum, size(set));
}

export interface Counts {
  readonly grafted: number;
  readonly taken: number;
  readonly failed: number;
  readonly sold: number;
  /** Lost after a take; they are among the failed. */
  readonly late: number;
  /** Takes younger than they can be told for sure; they are among the taken. */
  readonly early: number;
  readonly causes: Readonly<Record<string, number>>;
}

interface Counted extends Judged {
  readonly madeDay: Day;
  readonly sold?: Day;
}

/**
 * Sums over cohorts and counts. A named loss is one more than the counted ones, until more would be lost than were made; counted losses come off those still to judge first.
 *
 * @param earliest days from grafting on which a take can first be told for sure
 */
export function countsOf<C extends Counted>(
  cohorts: readonly C[],
  tallies: readonly Tally[],
  earliest: (cohort: C) => number,
): Counts {
  const sums = { grafted: 0, taken: 0, failed: 0, sold: 0, late: 0, early: 0, causes: {} as Record<string, number> };
  const pools = poolsOf(cohorts, tallies);
  const pooled = new Set(pools.flatMap((pool) => pool.cohorts));
  for (const cohort of cohorts) {
    const grafts = size(cohort.numbers);
    sums.grafted += grafts;
    if (pooled.has(cohort)) continue;
    if (cohort.sold !== undefined) sums.sold += grafts;
    if (cohort.fail) {
      sums.failed += grafts;
      add(sums.causes, cohort.fail.cause, grafts);
      if (cohort.take !== undefined) sums.late += grafts;
    } else if (cohort.take !== undefined) {
      sums.taken += grafts;
      if (cohort.take - cohort.madeDay < earliest(cohort)) sums.early += grafts;
    }
  }
  for (const pool of pools) {
    const counts = poolCounts(pool, earliest);
    for (const key of ['taken', 'failed', 'sold', 'late', 'early'] as const) sums[key] += counts[key];
    for (const [cause, count] of Object.entries(counts.causes)) add(sums.causes, cause, count);
  }
  return sums;
}

interface Happening {
  readonly day: Day;
  readonly verb: Tally['verb'];
  readonly count: number;
  readonly cause?: string;
  /** Named losses of grafts that were named as taken. */
  readonly taken?: boolean;
  readonly early?: boolean;
}

function poolCounts<C extends Counted>(pool: Pool<C>, earliest: (cohort: C) => number): Omit<Counts, 'grafted'> {
  const sums = { taken: 0, failed: 0, sold: 0, late: 0, early: 0, causes: {} as Record<string, number> };
  for (const { verb, count, cause, taken, early } of happenings(pool, earliest)) {
    if (verb === 'sell') sums.sold += count;
    if (verb === 'take') {
      const before = sums.taken;
      sums.taken = Math.min(before + count, pool.size - sums.failed);
      if (early) sums.early += sums.taken - before;
    }
    if (verb !== 'fail') continue;
    const more = Math.min(count, pool.size - sums.failed);
    const open = pool.size - sums.failed - sums.taken;
    const late = taken ? Math.min(more, sums.taken) : Math.max(0, more - open);
    sums.failed += more;
    sums.late += late;
    sums.taken -= late;
    add(sums.causes, cause ?? 'unknown', more);
  }
  return { ...sums, sold: Math.min(sums.sold, pool.size - sums.failed), early: Math.min(sums.early, sums.taken) };
}

function happenings<C extends Counted>({ cohorts, tallies }: Pool<C>, earliest: (cohort: C) => number): Happening[] {
  const oldest = cohorts.reduce((first, cohort) => (cohort.madeDay < first.madeDay ? cohort : first));
  const all: Happening[] = tallies.map(({ day, verb, count, cause }) => ({
    day,
    verb,
    count,
    ...(cause === undefined ? {} : { cause }),
    early: day - oldest.madeDay < earliest(oldest),
  }));
  for (const cohort of cohorts) {
    const count = size(cohort.numbers);
    if (cohort.sold !== undefined) all.push({ day: cohort.sold, verb: 'sell', count });
    if (cohort.counted) continue;
    if (cohort.take !== undefined)
      all.push({ day: cohort.take, verb: 'take', count, early: cohort.take - cohort.madeDay < earliest(cohort) });
    if (cohort.fail)
      all.push({
        day: cohort.fail.day,
        verb: 'fail',
        count,
        cause: cohort.fail.cause,
        taken: cohort.take !== undefined,
      });
  }
  return all.sort((a, b) => a.day - b.day);
}

function add(sums: Record<string, number>, key: string, count: number): void {
  if (count > 0) sums[key] = (sums[key] ?? 0) + count;
}
