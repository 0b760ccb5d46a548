import type { Stratum } from './exact-test.ts';
import { chiSquareTail } from './tails.ts';

export interface MantelHaenszel {
  /** Chi-square on one degree of freedom, without continuity correction; 0 where nothing can vary. */
  readonly chiSquare: number;
  readonly p: number;
  /** Common odds ratio of A to B; null where it has no finite value. */
  readonly oddsRatio: number | null;
}

/**
 * Cochran-Mantel-Haenszel test that A and B do alike in every stratum, for records too large for the exact test.
 *
 * @param strata counts; a stratum with one side empty is skipped
 *
 * Source: Mantel & Haenszel 1959, J Natl Cancer Inst 22:719-748; as R's `mantelhaen.test(correct = FALSE)`.
 */
export function mantelHaenszel(strata: readonly Stratum[]): MantelHaenszel {
  let excess = 0;
  let variance = 0;
  let forA = 0;
  let forB = 0;
  for (const { a, b } of strata) {
    if (!(a.judged > 0 && b.judged > 0)) continue;
    const all = a.judged + b.judged;
    const taken = a.taken + b.taken;
    excess += a.taken - (taken * a.judged) / all;
    variance += (taken * (all - taken) * a.judged * b.judged) / (all * all * (all - 1));
    forA += (a.taken * (b.judged - b.taken)) / all;
    forB += ((a.judged - a.taken) * b.taken) / all;
  }
  const chiSquare = variance > 0 ? (excess * excess) / variance : 0;
  return { chiSquare, p: chiSquareTail(chiSquare, 1), oddsRatio: forB > 0 ? forA / forB : null };
}
