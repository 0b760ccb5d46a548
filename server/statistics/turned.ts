import type { Stratum } from './exact-test.ts';

export interface Turned {
  /** Difference of the plain sums, A - B. */
  readonly crude: number;
  /** The same inside the levels of the fact, weighted alike for both. */
  readonly within: number;
}

/** Both differences must be at least so large, or it is only luck around none (house default). */
const least = 0.05;
const rounding = 1e-12;

/**
 * Whether a difference turns round when a fact is held level: A ahead taken together, B ahead inside the levels.
 *
 * @param levels counts of A and B in each level of the fact
 * @returns both differences where they have opposite signs and are at least 5 points each, else null. It states the
 *   record; it is no test.
 *
 * Source: Simpson 1951; direct standardisation with the weights ab / (a + b), Cochran 1954.
 */
export function turned(levels: readonly Stratum[]): Turned | null {
  const differences = bothDifferences(levels);
  if (!differences) return null;
  const { crude, within } = differences;
  const large = Math.min(Math.abs(crude), Math.abs(within)) >= least - rounding;
  return large && crude * within < 0 ? differences : null;
}

/** The crude and the standardised difference, A - B; null where no level holds both. */
export function bothDifferences(levels: readonly Stratum[]): Turned | null {
  let weights = 0;
  let weighted = 0;
  const sum = { takenA: 0, judgedA: 0, takenB: 0, judgedB: 0 };
  for (const { a, b } of levels) {
    sum.takenA += a.taken;
    sum.judgedA += a.judged;
    sum.takenB += b.taken;
    sum.judgedB += b.judged;
    if (!(a.judged > 0 && b.judged > 0)) continue;
    const weight = (a.judged * b.judged) / (a.judged + b.judged);
    weights += weight;
    weighted += weight * (a.taken / a.judged - b.taken / b.judged);
  }
  if (weights === 0) return null;
  return { crude: sum.takenA / sum.judgedA - sum.takenB / sum.judgedB, within: weighted / weights };
}
