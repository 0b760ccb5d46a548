/** Two-sided 95 % point of the normal curve, to all digits a double holds (1.96 moves the fifth decimal). */
export const Z95 = 1.959963984540054;

/** Limits of a share, both inside 0..1. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}

/**
 * Wilson's score interval of a share.
 *
 * @param taken successes x, 0 <= x <= judged; may be fractional (an effective count)
 * @param judged trials n; may be fractional
 * @param z two-sided point of the reference curve, 95 % of the normal by default; a Student t point where the spread
 *   between batches is itself estimated
 * @returns limits as shares. x = 0 gives low 0 exactly, x = n gives high 1 exactly; null where n is not above 0.
 *
 * Source: Wilson 1927, JASA 22:209-212; Newcombe 1998, Stat Med 17:857-872, method 3.
 */
export function wilson(taken: number, judged: number, z: number = Z95): Interval | null {
  if (!(judged > 0)) return null;
  const rate = taken / judged;
  const z2 = z * z;
  const denominator = judged + z2;
  const middle = (taken + z2 / 2) / denominator;
  const half = (z * Math.sqrt(judged * rate * (1 - rate) + z2 / 4)) / denominator;
  return {
    low: taken <= 0 ? 0 : Math.max(0, middle - half),
    high: taken >= judged ? 1 : Math.min(1, middle + half),
  };
}
