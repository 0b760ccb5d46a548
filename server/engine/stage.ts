import { intersect, size } from '#grammar/values/intervals.ts';
import type { BatchHistory, Cohort } from './model.ts';
import { countsOf, poolsOf } from './tally.ts';

export const stages = ['made', 'swelling', 'opening', 'free', 'taken', 'untied', 'sold', 'failed'] as const;
export type Stage = (typeof stages)[number];

/** How far a cohort has come. Sold ends the work, failed ends all; heading back runs beside it as a share. */
export function stageOf(cohort: Pick<Cohort, 'swell' | 'free' | 'take' | 'fail' | 'sold' | 'untied' | 'share'>): Stage {
  if (cohort.fail) return 'failed';
  if (cohort.sold !== undefined) return 'sold';
  return growingStage(cohort);
}

function growingStage(cohort: Pick<Cohort, 'swell' | 'free' | 'take' | 'untied' | 'share'>): Stage {
  if (cohort.take !== undefined) return cohort.untied === undefined ? 'taken' : 'untied';
  if (cohort.free !== undefined) return 'free';
  if (cohort.share > 0) return 'opening';
  return cohort.swell === undefined ? 'made' : 'swelling';
}

/** Grafts by stage; stages that hold none are left out. Counted losses, takes and sales are in it. */
export function stageCounts(history: Pick<BatchHistory, 'cohorts' | 'tallies'>): Partial<Record<Stage, number>> {
  const counts = new Map<Stage, number>();
  const put = (stage: Stage, count: number) => {
    if (count > 0) counts.set(stage, (counts.get(stage) ?? 0) + count);
  };
  const pools = poolsOf(history.cohorts, history.tallies);
  const pooled = new Set(pools.flatMap((pool) => pool.cohorts));
  for (const cohort of history.cohorts) if (!pooled.has(cohort)) put(stageOf(cohort), size(cohort.numbers));
  for (const pool of pools) {
    const { taken, failed, sold } = countsOf(pool.cohorts, pool.tallies, () => 0);
    put('failed', failed);
    put('sold', sold);
    // who is not lost and not sold: the taken first, then by the stages their cohorts have come to
    let left = pool.size - failed - sold;
    const judged = Math.min(left, Math.max(0, taken - sold));
    put('taken', judged);
    left -= judged;
    for (const cohort of pool.cohorts) {
      if (cohort.fail && !cohort.counted) continue;
      const some = Math.min(left, size(cohort.numbers));
      put(growingStage(cohort), some);
      left -= some;
    }
  }
  return Object.fromEntries(stages.flatMap((stage) => (counts.has(stage) ? [[stage, counts.get(stage)]] : [])));
}

/** How many of a cohort live, as far as can be told: losses that were counted over more than it are taken off it last. */
export function livingOf(history: Pick<BatchHistory, 'cohorts' | 'tallies'>, cohort: Cohort): number {
  if (cohort.fail) return 0;
  const all = size(cohort.numbers);
  const pool = poolsOf(history.cohorts, history.tallies).find((one) => one.cohorts.includes(cohort));
  if (!pool) return all;
  const named = pool.cohorts.reduce((sum, other) => sum + (other.fail && !other.counted ? size(other.numbers) : 0), 0);
  const { failed } = countsOf(pool.cohorts, pool.tallies, () => 0);
  const others = pool.cohorts.reduce(
    (sum, other) => sum + (other !== cohort && !other.fail ? size(other.numbers) : 0),
    0,
  );
  const inside = pool.tallies.filter(
    ({ verb, over }) => verb === 'fail' && size(intersect(over, cohort.numbers)) === size(over),
  );
  const sure = inside.reduce((sum, tally) => sum + tally.count, 0);
  return Math.max(0, all - Math.max(sure, failed - named - others, 0));
}
