import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { isoDay, parseIso } from '#grammar/values/date.ts';
import { dailyDegreeDays, degreeDays, sumOfDegreeDays } from '#server/weather/degree-days.ts';
import { readStation, type StationDay } from '#server/weather/station.ts';
import { referenceRows, vegaData } from '../support/tables.ts';

const day = (iso: string): number => parseIso(iso) ?? Number.NaN;

describe('one day by single sine', () => {
  test.each(referenceRows('degree-days.csv'))('$tmin to $tmax over $lower: $single_sine_no_upper', (row) => {
    const found = degreeDays(Number(row.tmin), Number(row.tmax), Number(row.lower));
    expect(found).toBeCloseTo(Number(row.single_sine_no_upper), 8);
  });

  test('published: 7 to 14 over 12 is 0.47 (TrenchR, citing UC IPM), where the simple mean says nothing', () => {
    expect(degreeDays(7, 14, 12)).toBeCloseTo(0.47, 2);
  });

  test('a day like another all through is no division by zero', () => {
    expect([degreeDays(10, 10, 5), degreeDays(5, 5, 5), degreeDays(4, 4, 5)]).toEqual([5, 0, 0]);
  });

  test('never below 0, never under the mean over the base, more for a warmer day, less for a higher base', () => {
    const figure = fc.double({ min: -60, max: 60, noNaN: true });
    fc.assert(
      fc.property(figure, figure, figure, fc.double({ min: 0, max: 20, noNaN: true }), (a, b, base, more) => {
        const [min, max] = [Math.min(a, b), Math.max(a, b)];
        const found = degreeDays(min, max, base);
        return (
          found >= 0 &&
          found >= (min + max) / 2 - base - 1e-9 &&
          degreeDays(min, max + more, base) >= found - 1e-9 &&
          degreeDays(min + Math.min(more, max - min), max, base) >= found - 1e-9 &&
          degreeDays(min, max, base + more) <= found + 1e-9
        );
      }),
    );
  });
});

describe('open data: Seattle (vega-datasets 3.2.1; NOAA), held against R', () => {
  const station = readStation(vegaData('seattle-weather.csv'));
  const days = 'refused' in station ? [] : station.days;
  const sum = (base: number, from: string, to: string) => sumOfDegreeDays(days, base, day(from), day(to));

  test.each(referenceRows('seattle-weather-yearly.csv').map((row) => ({ ...row, year: String(Number(row.year)) })))(
    'the year $year',
    (row: Readonly<Record<string, string>>) => {
      const span = [`${row.year}-01-01`, `${row.year}-12-31`] as const;
      expect(sum(5, ...span)).toBeCloseTo(Number(row.gdd5_sine), 5);
      expect(sum(10, ...span)).toBeCloseTo(Number(row.gdd10_sine), 5);
    },
  );

  test('2013: warmth over 5 °C since 1 January reached 50, 100, 200, 300 and 400 on these days', () => {
    let warmth = 0;
    const reached: string[] = [];
    for (const [i, one] of (dailyDegreeDays(days, 5, day('2013-01-01'), day('2013-12-31')) ?? []).entries()) {
      const before = warmth;
      warmth += one;
      for (const goal of [50, 100, 200, 300, 400])
        if (before < goal && warmth >= goal) reached.push(isoDay(day('2013-01-01') + i));
    }
    expect(reached).toEqual(['2013-02-12', '2013-03-03', '2013-03-30', '2013-04-18', '2013-05-03']);
  });
});

describe('days that are missing', () => {
  const row = (iso: string, min: number, max: number): StationDay => ({ day: day(iso), min, max });
  const daily = (days: readonly StationDay[], from: string, to: string) => dailyDegreeDays(days, 5, day(from), day(to));

  test('a few are as warm as the days around them', () => {
    const days = [row('2026-04-01', 7, 9), { day: day('2026-04-02'), min: 3 }, row('2026-04-04', 9, 11)];
    expect(daily(days, '2026-04-01', '2026-04-04')).toEqual([3, 4, 4, 5]);
    expect(daily(days, '2026-04-03', '2026-04-04')).toEqual([5, 5]);
    expect(daily(days, '2026-04-01', '2026-04-03')).toEqual([3, 4, 4]);
  });

  test('more than a week, or days beyond the record: nothing', () => {
    const days = [row('2026-04-01', 7, 9), row('2026-04-09', 9, 11), row('2026-04-18', 9, 11)];
    expect(daily(days, '2026-04-01', '2026-04-09')).toHaveLength(9);
    expect(daily(days, '2026-04-01', '2026-04-18')).toBeUndefined();
    expect(daily(days, '2026-03-20', '2026-04-01')).toBeUndefined();
    expect(daily(days, '2026-04-18', '2026-04-19')).toBeUndefined();
    expect(daily([], '2026-04-01', '2026-04-01')).toBeUndefined();
  });
});
