import { type FirthFit, type FirthRow, firth } from './firth.ts';
import { chiSquareTail } from './tails.ts';
import { Z95 } from './wilson.ts';

export interface Profile {
  /** Null where the limit lies further out than `furthest`. */
  readonly low: number | null;
  readonly high: number | null;
  /** Penalised likelihood ratio against a slope of 0, on one degree of freedom, and its p. */
  readonly ratio: number;
  readonly p: number;
}

/** 95 % point of chi-square on one degree of freedom. */
const drop = Z95 * Z95;
const rounding = 1e-12;

/**
 * Limits and test of one slope from the profile of the penalised likelihood, which stay right where the curve is lopsided
 * and the standard error is not.
 *
 * @param rows and `fit` of `firth`; `fact` which slope
 * @param furthest a limit is not looked for beyond ± this
 * @returns null where a fit with the slope held fails
 *
 * Source: Heinze & Schemper 2002, Stat Med 21:2409-2419.
 */
export function profile(rows: readonly FirthRow[], fit: FirthFit, fact: number, furthest: number): Profile | null {
  const none = firth(rows, { fact, value: 0 }, fit);
  if (!none) return null;
  const ratio = Math.max(0, 2 * (fit.likelihood - none.likelihood));
  return {
    low: limit(rows, fit, fact, -1, furthest),
    high: limit(rows, fit, fact, 1, furthest),
    ratio,
    p: chiSquareTail(ratio, 1),
  };
}

function limit(rows: readonly FirthRow[], fit: FirthFit, fact: number, side: 1 | -1, furthest: number): number | null {
  let warm = fit;
  /** Below 0 between the fit and the limit, above 0 beyond it. */
  const beyond = (value: number): number => {
    const there = firth(rows, { fact, value }, warm);
    if (!there) return Number.POSITIVE_INFINITY;
    warm = there;
    return 2 * (fit.likelihood - there.likelihood) - drop;
  };
  let inside = fit.slopes[fact] ?? 0;
  let step = fit.errors[fact] ?? 1;
  let outside = inside + side * step;
  while (beyond(outside) < 0) {
    if (Math.abs(outside) > furthest) return null;
    inside = outside;
    step *= 1.5;
    outside += side * step;
  }
  const found = root(beyond, inside, outside);
  return Math.abs(found) > furthest ? null : found;
}

/** The zero between `inside` (below 0) and `outside` (above 0): false position, halving where it would crawl. */
function root(f: (value: number) => number, inside: number, outside: number): number {
  let low = inside;
  let high = outside;
  let atLow = f(low);
  let atHigh = f(high);
  let lastSide = 0;
  for (let round = 0; round < 200 && Math.abs(high - low) > rounding * (1 + Math.abs(low)); round++) {
    const secant = Number.isFinite(atHigh) ? (low * atHigh - high * atLow) / (atHigh - atLow) : (low + high) / 2;
    const middle = round % 8 === 7 ? (low + high) / 2 : secant;
    const value = f(middle);
    if (value === 0) return middle;
    if (value < 0) {
      low = middle;
      atLow = value;
      if (lastSide === -1) atHigh /= 2;
      lastSide = -1;
    } else {
      high = middle;
      atHigh = value;
      if (lastSide === 1) atLow /= 2;
      lastSide = 1;
    }
    if (Math.abs(value) < rounding) return middle;
  }
  return (low + high) / 2;
}
