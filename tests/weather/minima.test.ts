import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { learnedOffset, median } from '#server/weather/minima.ts';

const daily = (...figures: number[]) => figures.map((figure, day) => ({ day, figure }));
const station = (...figures: number[]) => new Map(figures.map((figure, day) => [day, figure] as const));

describe('how much warmer a place is than its station', () => {
  test('the median of the days that have both, and how many they were', () => {
    // differences 1.5, 2, 1.5, 9 (a thermometer in the sun), 1.4
    expect(learnedOffset(daily(-0.5, 3, 2.5, 10, 0.4), station(-2, 1, 1, 1, -1))).toEqual({ degrees: 1.5, days: 5 });
  });
  test('days that only one of them has don’t count', () => {
    expect(learnedOffset(daily(0, 0, 0, 0), station(1, 1, 2))).toEqual({ degrees: -1, days: 3 });
  });
  test('one day or two tell nothing', () => {
    expect(learnedOffset(daily(0, 0), station(1, 1, 1))).toBeUndefined();
    expect(learnedOffset([], station())).toBeUndefined();
  });
});

test('the median lies between the figures, and turns with them', () => {
  expect([median([3, 1, 2]), median([4, 1, 2, 3])]).toEqual([2, 2.5]);
  fc.assert(
    fc.property(fc.array(fc.double({ min: -60, max: 60, noNaN: true }), { minLength: 1 }), (figures) => {
      const middle = median(figures);
      return (
        middle >= Math.min(...figures) &&
        middle <= Math.max(...figures) &&
        Math.abs(median(figures.map((figure) => -figure)) + middle) < 1e-9
      );
    }),
  );
});
