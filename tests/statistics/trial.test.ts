import gammainc from '@stdlib/math-base-special-gammainc';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { benchOrder } from '#server/statistics/bench-order.ts';
import { next } from '#server/statistics/minstd.ts';
import { clustersEach, otherRate, roundedUp, smallestPoints, trialsEach } from '#server/statistics/trial.ts';
import { expectClose } from '../support/close.ts';
import { referenceRows } from '../support/tables.ts';

/** Normal point with a share p below it, p above one half, by halving: good to 1e-12. */
function normalPoint(p: number): number {
  let [low, high] = [0, 10];
  for (let round = 0; round < 60; round++) {
    const middle = (low + high) / 2;
    if (0.5 + gammainc((middle * middle) / 2, 0.5, true, false) / 2 < p) low = middle;
    else high = middle;
  }
  return low;
}

const zOf = (power: number): number => (power < 0.5 ? -normalPoint(1 - power) : normalPoint(power));

describe('how large a trial', () => {
  test.each(referenceRows('statistics-trial.csv'))('$points from $rate at power $power', (row) => {
    const [rate, points, z] = [Number(row.rate), Number(row.points), zOf(Number(row.power))];
    const [size, spread] = [Number(row.batch_size), Number(row.rho)];
    expectClose(otherRate(rate, points), row.other);
    expectClose(trialsEach(rate, points, z), row.each_exact);
    expect(roundedUp(trialsEach(rate, points, z))).toBe(Number(row.each));
    expect(clustersEach(rate, points, size, spread, z)).toBe(Number(row.batches_each));
    expect(clustersEach(rate, points, Number.POSITIVE_INFINITY, spread, z)).toBe(Number(row.batches_each_if_huge));
  });

  test.each(referenceRows('statistics-trial-power.csv'))('$each of each see $rate and $other at $power', (row) => {
    const [one, other] = [Number(row.rate), Number(row.other)];
    expect(trialsEach(Math.min(one, other), Math.abs(other - one), zOf(Number(row.power)))).toBeCloseTo(
      Number(row.each),
      6,
    );
  });

  test("R's power.prop.test(p1 = .5, p2 = .75, power = .9): 76.7 each", () => {
    expect(trialsEach(0.5, 0.25, zOf(0.9)).toFixed(1)).toBe('76.7');
  });

  test('from 75 %: 49 each for 20 points, 250 for 10', () => {
    expect([0.2, 0.1].map((points) => roundedUp(trialsEach(0.75, points)))).toEqual([49, 250]);
  });

  test('the smallest difference in reach, in steps of 5 points; none to 40', () => {
    expect(smallestPoints((points) => trialsEach(0.75, points) <= 100)).toBe(0.15);
    expect(smallestPoints((points) => trialsEach(0.75, points) <= 4)).toBeNull();
  });
});

describe('the order at the bench', () => {
  test.each(referenceRows('statistics-trial-order.csv'))('seed $seed, $grafts of $ways ways', (row) => {
    const order = benchOrder(Number(row.seed), Number(row.grafts), Number(row.ways), Number(row.run));
    expect(order.map((way) => 'ABC'[way]).join('')).toBe(row.order);
  });

  test('the 10,000th number from 1 is 399268537, as ISO C++ demands of minstd_rand', () => {
    let state = 1;
    for (let i = 0; i < 10_000; i++) state = next(state);
    expect(state).toBe(399268537);
  });

  test('each way equally often in each whole run, and to within one in the last; the same from the same seed', () => {
    const whole = (max: number) => fc.integer({ min: 1, max });
    fc.assert(
      fc.property(fc.nat(), whole(80), whole(5), whole(9), (seed, places, ways, run) => {
        const order = benchOrder(seed, places, ways, run);
        expect(order).toEqual(benchOrder(seed, places, ways, run));
        for (let from = 0; from < places; from += run) {
          const part = order.slice(from, from + run);
          const times = Array.from({ length: ways }, (_, way) => part.filter((one) => one === way).length);
          expect(Math.max(...times) - Math.min(...times)).toBeLessThanOrEqual(1);
        }
        return order.length === places;
      }),
    );
  });
});
