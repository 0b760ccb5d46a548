import { atRiskOn, type Life, riskDays } from './lives.ts';
import { chiSquareTail } from './tails.ts';

export interface LogRank {
  /** On one degree of freedom. */
  readonly chiSquare: number;
  readonly p: number;
}

/**
 * Log-rank test of A's losses over time against B's, inside strata.
 *
 * @param strata lives of each side; a stratum with one side empty adds nothing
 * @returns null where nothing can vary: no losses, or no stratum with both sides at risk
 *
 * Source: Mantel 1966; Peto & Peto 1972, with the hypergeometric variance, as R's `survdiff(... + strata())`.
 */
export function logRank(
  strata: readonly { readonly a: readonly Life[]; readonly b: readonly Life[] }[],
): LogRank | null {
  let excess = 0;
  let variance = 0;
  for (const { a, b } of strata) {
    for (const { day, atRisk, lost } of riskDays([...a, ...b])) {
      const atRiskA = atRiskOn(a, day);
      const lostA = a.reduce((sum, life) => sum + (life.lost && life.day === day ? life.count : 0), 0);
      const shareA = atRiskA / atRisk;
      excess += lostA - lost * shareA;
      if (atRisk > 1) variance += (lost * shareA * (1 - shareA) * (atRisk - lost)) / (atRisk - 1);
    }
  }
  if (!(variance > 0)) return null;
  const chiSquare = (excess * excess) / variance;
  return { chiSquare, p: chiSquareTail(chiSquare, 1) };
}
