import gammaln from '@stdlib/math-base-special-gammaln';

/** A tail that only rounding keeps from the confidence asked for has reached it. */
const tie = 1e-9;

/**
 * P(X >= wanted) of a beta-binomial X: so many successes of n at a rate that is itself drawn from Beta(a, b).
 *
 * @param n trials, whole; `wanted` whole, >= 0; a, b > 0
 * @returns a share 0..1; 0 with fewer trials than are wanted, 1 where none is wanted
 *
 * Source: Skellam 1948; summed from the term at `wanted` - 1 down by the ratio of neighbours.
 */
export function betaBinomialTail(wanted: number, n: number, a: number, b: number): number {
  if (wanted <= 0) return 1;
  if (n < wanted) return 0;
  const from = wanted - 1;
  let term = Math.exp(logChoose(n, from) + logBeta(a + from, b + n - from) - logBeta(a, b));
  let below = term;
  for (let k = from; k > 0 && term > 0; k--) {
    term *= (k * (b + n - k)) / ((n - k + 1) * (a + k - 1));
    below += term;
  }
  return Math.min(1, Math.max(0, 1 - below));
}

/**
 * The fewest trials that give `wanted` successes with that confidence.
 *
 * @param cap no more than so many are looked at
 * @returns null where even `cap` don't reach it
 */
export function fewestTrials(wanted: number, confidence: number, a: number, b: number, cap: number): number | null {
  const enough = (n: number) => betaBinomialTail(wanted, n, a, b) >= confidence - tie;
  if (!enough(cap)) return null;
  let low = wanted - 1;
  let high = wanted;
  while (!enough(high)) {
    low = high;
    high = Math.min(cap, high * 2);
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (enough(middle)) high = middle;
    else low = middle;
  }
  return high;
}

function logBeta(a: number, b: number): number {
  return gammaln(a) + gammaln(b) - gammaln(a + b);
}

function logChoose(n: number, k: number): number {
  return -Math.log(n + 1) - logBeta(n - k + 1, k + 1);
}
