import gammaln from '@stdlib/math-base-special-gammaln';
import type { Counts } from './share.ts';

/** Two ways judged side by side in one stratum. */
export interface Stratum {
  readonly a: Counts;
  readonly b: Counts;
}

/** Outcomes whose chances differ by less than this share are equally likely: rounding must not lose a tied table. */
const tie = 1e-7;

/**
 * Exact conditional test that A and B do alike in every stratum: the sum of successes of A, its stratum totals held.
 *
 * @param strata counts, whole numbers; a stratum with one side empty says nothing and is skipped
 * @returns two-sided p, the chance of all outcomes no likelier than the one seen; 1 where nothing can vary. With one
 *   stratum it is Fisher's exact test.
 *
 * Source: Fisher 1935; over strata Birch 1964 and Cox 1970, by convolving the hypergeometric distributions.
 */
export function exactTest(strata: readonly Stratum[]): number {
  let chances = [1];
  let seen = 0;
  for (const { a, b } of strata) {
    if (!(a.judged > 0 && b.judged > 0)) continue;
    const taken = a.taken + b.taken;
    const least = Math.max(0, taken - b.judged);
    chances = convolve(chances, hypergeometric(a.judged, b.judged, taken));
    seen += a.taken - least;
  }
  const limit = (chances[seen] ?? 0) * (1 + tie);
  let extreme = 0;
  let all = 0;
  for (const chance of chances) {
    all += chance;
    if (chance <= limit) extreme += chance;
  }
  return Math.min(1, extreme / all);
}

/** How many values A's sum can take: what the exact test has to go through. */
export function outcomes(strata: readonly Stratum[]): number {
  let count = 1;
  for (const { a, b } of strata) {
    if (!(a.judged > 0 && b.judged > 0)) continue;
    const taken = a.taken + b.taken;
    count += Math.min(a.judged, taken) - Math.max(0, taken - b.judged);
  }
  return count;
}

/** Chances of each number of successes among A's, from the least possible up, when `taken` are spread over both. */
function hypergeometric(a: number, b: number, taken: number): number[] {
  const least = Math.max(0, taken - b);
  const most = Math.min(a, taken);
  const chances: number[] = [];
  const all = logChoose(a + b, taken);
  for (let x = least; x <= most; x++) chances.push(Math.exp(logChoose(a, x) + logChoose(b, taken - x) - all));
  return chances;
}

function convolve(left: readonly number[], right: readonly number[]): number[] {
  const sum = new Float64Array(left.length + right.length - 1);
  left.forEach((l, i) => {
    right.forEach((r, j) => {
      sum[i + j] = (sum[i + j] ?? 0) + l * r;
    });
  });
  return [...sum];
}

function logChoose(n: number, k: number): number {
  return gammaln(n + 1) - gammaln(k + 1) - gammaln(n - k + 1);
}
