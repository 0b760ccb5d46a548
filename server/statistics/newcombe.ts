import type { Interval } from './wilson.ts';

/** A rate with its limits, all shares 0..1. */
export interface RateWithin extends Interval {
  readonly rate: number;
}

/**
 * Newcombe's hybrid interval of a difference between two independent rates, from the limits of each.
 *
 * @returns limits of a.rate - b.rate, inside -1..1 and never NaN; swapping the sides turns the signs
 *
 * Source: Newcombe 1998, Stat Med 17:873-890, method 10.
 */
export function newcombe(a: RateWithin, b: RateWithin): Interval {
  const difference = a.rate - b.rate;
  return {
    low: Math.max(-1, difference - Math.hypot(a.rate - a.low, b.high - b.rate)),
    high: Math.min(1, difference + Math.hypot(a.high - a.rate, b.rate - b.low)),
  };
}
