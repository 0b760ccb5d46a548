import type { Day } from '#grammar/statement.ts';
import { least } from '#grammar/values/extremes.ts';
import type { Counts as Judged } from '#server/statistics/share.ts';
import type { BatchHistory, Cohort, Tally } from '../model.ts';
import { type Counts, countsOf, poolsOf } from '../tally.ts';
import { earliestTake } from './early.ts';
import type { FiguresEnv } from './env.ts';

/**
 * Grafts that can be counted together: those of one cohort, or of all cohorts that share a count ("4 of these were
 * lost"), of which nobody knows which.
 */
export interface Piece {
  readonly history: BatchHistory;
  readonly cohorts: readonly [Cohort, ...Cohort[]];
  readonly tallies: readonly Tally[];
  readonly counts: Counts;
}

/** A batch cut into pieces. */
export function piecesOf(history: BatchHistory, env: FiguresEnv): Piece[] {
  const pools = poolsOf(history.cohorts, history.tallies);
  const pooled = new Set(pools.flatMap((pool) => pool.cohorts));
  const alone = history.cohorts
    .filter((cohort) => !pooled.has(cohort))
    .map((cohort) => ({ cohorts: [cohort], tallies: [] }));
  return [...alone, ...pools].flatMap(({ cohorts, tallies }) => {
    const [first, ...rest] = cohorts;
    if (!first) return [];
    const counts = countsOf(cohorts, tallies, (cohort) => earliestTake(cohort, env));
    return [{ history, cohorts: [first, ...rest] as const, tallies, counts }];
  });
}

/** Counts of a piece where it is pooled, compared or planned with: takes younger than can be told for sure are open. */
export function sure({ counts }: Piece): Judged {
  const taken = counts.taken - counts.early;
  return { taken, judged: taken + counts.failed };
}

/** What was judged of a piece by a day, as far as it has stayed so. */
export function judgedBy({ cohorts, tallies }: Piece, day: Day): { readonly taken: number; readonly failed: number } {
  const then = cohorts.map(({ numbers, madeDay, take, fail, counted }) => ({
    numbers,
    madeDay,
    ...(take !== undefined && take <= day ? { take } : {}),
    ...(fail && fail.day <= day ? { fail } : {}),
    ...(counted ? { counted } : {}),
  }));
  return countsOf(
    then,
    tallies.filter((tally) => tally.day <= day),
    () => 0,
  );
}

/** Counts of each batch, from the oldest; batches of which nothing is judged for sure are in it with 0. */
export function clustersOf(pieces: readonly Piece[]): Judged[] {
  return [...byBatch(pieces).values()].map((own) => total(own.map(sure)));
}

/**
 * Those of batches that are at least half judged. Losses are known early and takes late, so of a younger batch the judged
 * ones say nothing yet: it has no rate to show, and none to set beside another batch.
 */
export function halfJudged(pieces: readonly Piece[]): Piece[] {
  return [...byBatch(pieces).values()].flatMap((own) => {
    const made = own.reduce((sum, piece) => sum + piece.counts.grafted, 0);
    return total(own.map(sure)).judged * 2 >= made ? own : [];
  });
}

/** Pieces by batch, the batch made first before the others. */
export function byBatch(pieces: readonly Piece[]): Map<string, Piece[]> {
  const inOrder = [...pieces].sort((a, b) => firstDay(a) - firstDay(b));
  const batches = new Map<string, Piece[]>();
  for (const piece of inOrder) push(batches, piece.history.batch.key, piece);
  return batches;
}

export function total(counts: readonly Judged[]): Judged {
  let taken = 0;
  let judged = 0;
  for (const one of counts) {
    taken += one.taken;
    judged += one.judged;
  }
  return { taken, judged };
}

export const firstDay = ({ cohorts }: Piece): Day => least(cohorts.map(({ madeDay }) => madeDay));

/** Batch and graft date: what stands or falls by the same day's hand and weather. */
export const sittingOf = (piece: Piece): string =>
  `${piece.history.batch.key} ${[...new Set(piece.cohorts.map(({ madeDay }) => madeDay))].sort().join(' ')}`;

export function push<K, V>(map: Map<K, V[]>, key: K, value: V): void {
  const list = map.get(key);
  if (list) list.push(value);
  else map.set(key, [value]);
}
