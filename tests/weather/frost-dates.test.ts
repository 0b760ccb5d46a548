import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fromDay, isoDay, parseIso } from '#grammar/values/date.ts';
import { type DayOfYear, frostDate, frostYears, type Night } from '#server/weather/frost-dates.ts';
import { readStation } from '#server/weather/station.ts';
import { referenceRows, vegaData } from '../support/tables.ts';

const day = (iso: string): number => parseIso(iso) ?? Number.NaN;
const text = (found: DayOfYear | 'none' | undefined) =>
  found === undefined || found === 'none' ? found : `${found.month}-${found.day}`;

/** Mild nights from one day to another, but for the frosts named. */
function nights(from: string, to: string, frosts: readonly string[]): Night[] {
  const cold = new Set(frosts.map(day));
  return Array.from({ length: day(to) - day(from) + 1 }, (_, i) => day(from) + i).map((one) => ({
    day: one,
    min: cold.has(one) ? -0.1 : 0,
  }));
}

test('open data: last and first frosts and frost days of Seattle (vega-datasets 3.2.1; NOAA), held against R', () => {
  const station = readStation(vegaData('seattle-weather.csv'));
  const all = ('refused' in station ? [] : station.days).map(({ day: on, min = Number.NaN }) => ({ day: on, min }));
  const years = frostYears(all, false);
  const rows = referenceRows('seattle-weather-yearly.csv');
  const monthDay = (iso: string | undefined) => iso?.slice(5).split('-').map(Number).join('-');
  expect(years.last.map(text)).toEqual(rows.map((row) => monthDay(row.last_spring_frost_lt0)));
  expect(years.first.map(text)).toEqual(rows.map((row) => monthDay(row.first_autumn_frost_lt0)));
  // 0.0 °C is no frost: counting it, the years have 21, 30, 22 and 15
  const frosts = rows.map(
    (row) => all.filter((one) => fromDay(one.day).year === Number(row.year) && one.min < 0).length,
  );
  expect(frosts).toEqual(rows.map((row) => Number(row.frost_days_lt0)));
  expect(frosts).toEqual([18, 26, 18, 10]);
  // four years tell a middle day and no more
  expect([0.5, 0.8, 0.9].map((certain) => text(frostDate(years, 'last', certain, false)))).toEqual([
    '3-4',
    undefined,
    undefined,
  ]);
  expect([0.5, 0.8, 0.9].map((certain) => text(frostDate(years, 'first', certain, false)))).toEqual([
    '11-13',
    undefined,
    undefined,
  ]);
});

describe('ten years', () => {
  // last frosts from 1 to 19 May, first frosts from 2 to 20 October, out of order
  const order = [7, 2, 9, 0, 5, 1, 8, 3, 6, 4];
  const two = (figure: number) => String(figure).padStart(2, '0');
  const ten = nights(
    '2011-01-01',
    '2020-12-31',
    order.flatMap((place, i) => [`${2011 + i}-05-${two(1 + 2 * place)}`, `${2011 + i}-10-${two(2 + 2 * place)}`]),
  );
  const years = frostYears(ten, false);

  test('the day passed with a certainty is a day on record: of ten years the i-th holds for i in eleven', () => {
    expect([0.5, 0.8, 0.9].map((certain) => text(frostDate(years, 'last', certain, false)))).toEqual([
      '5-11',
      '5-17',
      '5-19',
    ]);
    expect([0.5, 0.8, 0.9].map((certain) => text(frostDate(years, 'first', certain, false)))).toEqual([
      '10-9',
      '10-3',
      '10-1',
    ]);
    // more certainty than ten years can give
    expect(frostDate(years, 'last', 0.95, false)).toBeUndefined();
  });

  test('nine are too few for all but the middle', () => {
    const nine = frostYears(
      ten.filter((night) => night.day < day('2020-01-01')),
      false,
    );
    expect([nine.last.length, nine.first.length]).toEqual([9, 9]);
    expect([0.5, 0.8, 0.9].map((certain) => text(frostDate(nine, 'last', certain, false)))).toEqual([
      '5-11',
      undefined,
      undefined,
    ]);
  });

  test('south of the equator spring is the second half', () => {
    const south = frostYears(ten, true);
    // the last frost of the half that ends the year is October's, the first of the half that begins it May's
    expect([text(frostDate(south, 'last', 0.9, true)), text(frostDate(south, 'first', 0.9, true))]).toEqual([
      '10-20',
      '4-30',
    ]);
  });
});

describe('years without a frost', () => {
  const mild = nights('2011-01-01', '2020-12-31', ['2013-02-10', '2015-02-20', '2017-12-05']);
  test('stand before all others in spring and after them in autumn', () => {
    const years = frostYears(mild, false);
    expect(years.frostFree).toBe(0);
    expect([0.5, 0.8, 0.9].map((certain) => text(frostDate(years, 'last', certain, false)))).toEqual([
      '1-1',
      '2-10',
      '2-20',
    ]);
    expect([0.5, 0.8, 0.9].map((certain) => text(frostDate(years, 'first', certain, false)))).toEqual([
      '12-31',
      '12-31',
      '12-4',
    ]);
  });
  test('all of them: years free of frost are counted, and none where a single night froze', () => {
    expect(frostYears(nights('2011-01-01', '2020-12-31', []), false).frostFree).toBe(10);
    expect(frostYears(nights('2011-01-01', '2020-12-31', ['2016-01-20']), false).frostFree).toBe(0);
    expect(frostYears(nights('2011-01-01', '2020-06-30', []), false).frostFree).toBe(9);
    expect(frostYears([], false)).toEqual({ last: [], first: [], frostFree: 0 });
  });
});

test('half a year with more than a tenth of its nights missing doesn’t count', () => {
  const year = nights('2026-01-01', '2026-12-31', ['2026-04-20', '2026-10-30']);
  const without = (from: string, to: string) =>
    frostYears(
      year.filter((night) => night.day < day(from) || night.day > day(to)),
      false,
    );
  expect(without('2026-02-01', '2026-02-18').last.map(text)).toEqual(['4-20']);
  expect(without('2026-02-01', '2026-02-19').last).toEqual([]);
  expect(without('2026-02-01', '2026-02-19').first.map(text)).toEqual(['10-30']);
});

test('more certainty is never an earlier last frost or a later free day', () => {
  const frost = fc.integer({ min: 0, max: 180 });
  const year = fc.record({ spring: fc.option(frost), autumn: fc.option(frost) });
  fc.assert(
    fc.property(fc.array(year, { minLength: 10, maxLength: 14 }), fc.boolean(), (list, south) => {
      const frosts = list.flatMap(({ spring, autumn }, i) => [
        ...(spring === null ? [] : [isoDay(day(`${2000 + i}-01-01`) + spring)]),
        ...(autumn === null ? [] : [isoDay(day(`${2000 + i}-07-01`) + autumn)]),
      ]);
      const years = frostYears(nights('2000-01-01', `${1999 + list.length}-12-31`, frosts), south);
      const dates = (edge: 'last' | 'first') =>
        [0.2, 0.5, 0.7, 0.8, 0.9].map((certain) => frostDate(years, edge, certain, south));
      // free till the day before 1 January
      const rank = (date: DayOfYear | undefined) =>
        !date ? Number.NaN : south && text(date) === '12-31' ? 0 : date.month * 31 + date.day;
      const rising = (figures: readonly number[]) => figures.every((one, i) => i === 0 || one >= (figures[i - 1] ?? 0));
      return rising(dates('last').map(rank)) && rising(dates('first').map(rank).reverse());
    }),
    { numRuns: 40 },
  );
});
