import fc from 'fast-check';
import { DateTime } from 'luxon';
import { describe, expect, test } from 'vitest';
import { addMonths, dayOf, fromDay, isoDay, parseIso } from '#grammar/values/date.ts';
import {
  contains,
  intersect,
  intervalsText,
  normalize,
  same,
  size,
  subtract,
  union,
} from '#grammar/values/intervals.ts';
import { readQuantity, toAmount } from '#grammar/values/quantity.ts';
import { spelledInterval, spelledSet } from '#grammar/values/spelling.ts';
import { readYearDay, readYearPart } from '#grammar/values/year.ts';

describe('sets of numbers, against sets that hold each number', () => {
  const ranges = fc
    .array(fc.integer({ min: 1, max: 40 }), { maxLength: 10 })
    .map((list) => list.slice(0, list.length & ~1));
  const numbersOf = (set: readonly number[]) => Array.from({ length: 41 }, (_, i) => i).filter((i) => contains(set, i));

  test('union, intersection, difference, size', () => {
    fc.assert(
      fc.property(ranges, ranges, (left, right) => {
        const [a, b] = [normalize(left), normalize(right)];
        const [inA, inB] = [new Set(numbersOf(a)), new Set(numbersOf(b))];
        expect(numbersOf(union(a, b))).toEqual([...new Set([...inA, ...inB])].sort((x, y) => x - y));
        expect(numbersOf(intersect(a, b))).toEqual([...inA].filter((i) => inB.has(i)));
        expect(numbersOf(subtract(a, b))).toEqual([...inA].filter((i) => !inB.has(i)));
        expect(size(a)).toBe(inA.size);
        // sorted, disjoint, neighbours joined: two equal sets are one array
        for (const set of [a, union(a, b), intersect(a, b), subtract(a, b)])
          expect(same(normalize(set), set)).toBe(true);
      }),
      { numRuns: 500 },
    );
  });

  test('written as the notation writes them', () => {
    expect(intervalsText(normalize([12, 1, 14, 14]))).toBe('1..12,14');
    expect(intervalsText(normalize([3, 3, 1, 1]))).toBe('1,3');
    expect(intervalsText(normalize([1, 2]))).toBe('1,2');
    expect(spelledSet('K26.12-1, 14')).toBe('K26.1..12,14');
  });
});

describe('days', () => {
  test('as luxon counts them, over four centuries', () => {
    fc.assert(
      fc.property(fc.integer({ min: -73_000, max: 73_000 }), (day) => {
        const there = DateTime.fromMillis(day * 86_400_000, { zone: 'utc' });
        expect(isoDay(day)).toBe(there.toISODate());
        const { year, month, day: of } = fromDay(day);
        expect(dayOf(year, month, of)).toBe(day);
      }),
    );
  });

  test('months added by the calendar, as luxon adds them', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 40_000 }), fc.integer({ min: -60, max: 60 }), (day, months) => {
        const there = DateTime.fromMillis(day * 86_400_000, { zone: 'utc' }).plus({ months });
        expect(isoDay(addMonths(day, months))).toBe(there.toISODate());
      }),
    );
  });

  test('no other shape of ISO 8601', () => {
    for (const text of ['20261009', '2026-W41', '2026-283', '2026-10', '2026-1-9', '2026-02-30', ' 2026-10-09'])
      expect(parseIso(text), text).toBeUndefined();
    expect(parseIso('2026-10-09')).toBe(20735);
  });
});

describe('figures', () => {
  const of = (text: string, ...measures: Parameters<typeof toAmount>[1]) => {
    const read = readQuantity(text);
    return read && toAmount(read, measures, true);
  };

  test('into the model’s units; inch and Fahrenheit by NIST SP 811, appendix B (from memory)', () => {
    expect(of('1in', 'length')).toEqual({ ok: { kind: 'amount', measure: 'length', low: 25.4, high: 25.4 } });
    expect(of('3/16in', 'length')).toMatchObject({ ok: { low: 4.7625 } });
    expect(of('1 1/4in', 'length')).toMatchObject({ ok: { low: 31.75 } });
    expect(of('9cm', 'length')).toMatchObject({ ok: { low: 90 } });
    expect(of('90F', 'temperature')).toMatchObject({ ok: { low: 32.222222222 } });
    expect(of('-40F', 'temperature')).toMatchObject({ ok: { low: -40 } });
    expect(of('29%', 'share')).toMatchObject({ ok: { low: 0.29 } });
    expect(of('6wk', 'duration')).toMatchObject({ ok: { low: 42 } });
    expect(of('0.5h', 'minutes')).toMatchObject({ ok: { low: 30 } });
  });

  test('an interval runs forward by what it measures, whatever its units', () => {
    expect(of('60d..3y', 'duration')).toMatchObject({ ok: { low: 60, high: 1095.75, highMonths: 36 } });
    expect(of('3y..60d', 'duration')).toEqual(of('60d..3y', 'duration'));
    expect(of('9mm..1cm', 'length')).toMatchObject({ ok: { low: 9, high: 10 } });
    expect(of('50..30%', 'share')).toMatchObject({ ok: { low: 0.3, high: 0.5 } });
    expect(of('-4..-1C', 'temperature')).toMatchObject({ ok: { low: -4, high: -1 } });
  });

  test('a unit at one end serves both, but % no fraction', () => {
    expect(of('3/16..1/4in', 'length')).toMatchObject({ ok: { low: 4.7625, high: 6.35 } });
    expect(of('1/3..50%', 'share')).toMatchObject({ ok: { low: 1 / 3, high: 0.5 } });
    expect(of('30..1/2', 'share')).toEqual({ fault: 'no-unit' });
    expect(of('30mm..50%', 'share', 'length')).toMatchObject({ fault: 'other-unit' });
    expect(of('1/0', 'share')).toBeUndefined();
  });

  test('spelled anew they measure the same', () => {
    for (const [written, spelled] of [
      ['50-30 %', '30..50%'],
      ['3y..60d', '60d..3y'],
      ['1/2..1/3', '1/3..1/2'],
      ['50%..1/3', '1/3..50%'],
      ['-1..-4C', '-4..-1C'],
      ['30 .. 50%', '30..50%'],
      ['..42 d', '..42d'],
    ] as const) {
      expect(spelledInterval(written), written).toBe(spelled);
      const measures = ['share', 'duration', 'temperature'] as const;
      expect(of(spelled, ...measures), written).toEqual(of(written, ...measures));
    }
  });
});

test('days and parts of the year', () => {
  expect(readYearDay('mar-01')).toEqual({ month: 3, day: 1 });
  expect(readYearDay('feb-29')).toEqual({ month: 2, day: 29 });
  expect(readYearDay('feb-30')).toEqual({ fault: 'no-such-day' });
  expect(readYearDay('mars-01')).toBeUndefined();
  expect(readYearPart('oct..frost')).toBeUndefined();
  expect(readYearPart('sep-01..last-frost')).toEqual({ from: { month: 9, day: 1 }, to: { edge: 'last-frost' } });
  expect(readYearPart('fall')).toEqual({ season: 'autumn' });
  expect(readYearPart('feb')).toEqual({ from: { month: 2, day: 1 }, to: { month: 2, day: 29 } });
});
