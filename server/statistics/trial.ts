import { Z95 } from './wilson.ts';

/** Normal point of a power of 80 %, the usual one: 8 trials of 10 see a difference that is there. */
const z80 = 0.8416212335729143;
const rounding = 1e-9;

/** The rate a way would have that is so many points better, or, beyond 95 %, so many worse. */
export function otherRate(rate: number, points: number): number {
  return rate + points <= 0.95 + 1e-12 ? rate + points : rate - points;
}

/**
 * How many of each way to try side by side so that a difference of that size is seen.
 *
 * @param rate of one way, 0..1; `points` the difference to see, 0..1
 * @param zPower normal point of the power asked for
 * @returns trials of each way, not rounded; round up. Infinite for no difference is not asked: points > 0.
 *
 * Source: Fleiss 1981; as R's `power.prop.test`.
 */
export function trialsEach(rate: number, points: number, zPower: number = z80): number {
  const other = otherRate(rate, points);
  const mean = (rate + other) / 2;
  const spreads = rate * (1 - rate) + other * (1 - other);
  return (Z95 * Math.sqrt(2 * mean * (1 - mean)) + zPower * Math.sqrt(Math.max(0, spreads))) ** 2 / points ** 2;
}

/**
 * How many whole clusters of each way, where a cluster can hold one way only.
 *
 * @param size trials in a cluster; infinite gives the floor that no size gets under
 * @param spread correlation inside a cluster, 0..1
 * @returns whole clusters
 *
 * Source: Donner & Klar 2000, design effect, with one more cluster for t (from memory); simulated power 0.80-0.86.
 */
export function clustersEach(rate: number, points: number, size: number, spread: number, zPower: number = z80): number {
  const other = otherRate(rate, points);
  const both = rate * (1 - rate) + other * (1 - other);
  const inflation = Number.isFinite(size) ? (1 + (size - 1) * spread) / size : spread;
  return Math.ceil(((Z95 + zPower) ** 2 * both * inflation) / points ** 2 - rounding) + 1;
}

/** The whole number of trials, an exact one not lost to rounding. */
export function roundedUp(trials: number): number {
  return Math.ceil(trials - rounding);
}

/** The smallest difference, in steps of 5 points up to 40, for which `inReach` holds; null where none is. */
export function smallestPoints(inReach: (points: number) => boolean): number | null {
  for (let step = 1; step <= 8; step++) {
    const points = (step * 5) / 100;
    if (inReach(points)) return points;
  }
  return null;
}
