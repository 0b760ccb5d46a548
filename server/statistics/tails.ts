import betainc from '@stdlib/math-base-special-betainc';
import gammainc from '@stdlib/math-base-special-gammainc';
import tQuantilePoint from '@stdlib/stats-base-dists-t-quantile';

/**
 * Upper tail of the chi-square curve, taken directly: 1 - cdf is 0 far out, where the answer is 1e-20.
 *
 * @param value chi-square, >= 0
 * @param df degrees of freedom, > 0
 * @returns a share 0..1
 */
export function chiSquareTail(value: number, df: number): number {
  if (!(value > 0)) return 1;
  return gammainc(value / 2, df / 2, true, true);
}

/**
 * Two-sided tail of Student's t: P(|T| >= |value|), as the incomplete beta of df / (df + t²), so that it stays right
 * far out.
 *
 * @param value t; an infinite one gives 0
 * @param df degrees of freedom, > 0
 * @returns a share 0..1
 */
export function tTails(value: number, df: number): number {
  if (!Number.isFinite(value)) return 0;
  const share = df / (df + value * value);
  return betainc(share, df / 2, 0.5, true, false);
}

/** Two-sided 95 % point of Student's t on `df` degrees of freedom: 4.303 on 2, 1.96 on very many. */
export function t95(df: number): number {
  return tQuantilePoint(0.975, df);
}
