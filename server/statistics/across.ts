import { newcombe } from './newcombe.ts';
import { clusteredInterval } from './pooled.ts';
import type { Counts } from './share.ts';
import { effective, spreadOf, sums } from './spread.ts';
import { t95, tTails } from './tails.ts';
import type { Interval } from './wilson.ts';

export interface AcrossClusters extends Interval {
  readonly difference: number;
  /** Correlation inside a cluster, measured inside the two groups. */
  readonly spread: number;
  readonly df: number;
  readonly effectiveA: number;
  readonly effectiveB: number;
  readonly p: number;
}

/**
 * A against B where each was judged in clusters of its own, allowing for clusters standing or falling together.
 *
 * @param a clusters of A, `b` of B; those with nothing judged are left out
 * @returns difference A - B with its limits (-1..1) and a two-sided p, 1 where the rates are both 0 or both 1; null
 *   where a side has nothing judged
 *
 * Source: the interval of `pooled.ts` for each side, Newcombe 1998 for the difference. Simulated, nothing real: claimed by this
 * in 0-6 of 100 records, by the plain sums in 5-54 (tests/statistics/coverage.long.ts).
 */
export function acrossClusters(a: readonly Counts[], b: readonly Counts[]): AcrossClusters | null {
  const sumA = sums(a);
  const sumB = sums(b);
  if (!(sumA.judged > 0 && sumB.judged > 0)) return null;
  const { spread, df } = spreadOf([a, b]);
  const z = t95(df);
  const effectiveA = effective(a, spread);
  const effectiveB = effective(b, spread);
  const rateA = sumA.taken / sumA.judged;
  const rateB = sumB.taken / sumB.judged;
  const limits = newcombe(
    { rate: rateA, ...clusteredInterval(sumA.taken, sumA.judged, effectiveA, z) },
    { rate: rateB, ...clusteredInterval(sumB.taken, sumB.judged, effectiveB, z) },
  );
  const common = (rateA * effectiveA + rateB * effectiveB) / (effectiveA + effectiveB);
  const error = Math.sqrt(common * (1 - common) * (1 / effectiveA + 1 / effectiveB));
  return {
    difference: rateA - rateB,
    ...limits,
    spread,
    df,
    effectiveA,
    effectiveB,
    p: error > 0 ? tTails((rateA - rateB) / error, df) : 1,
  };
}
