import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { halfOfLosses, kaplanMeier, median } from '#server/statistics/kaplan-meier.ts';
import { atRiskOn, type Life } from '#server/statistics/lives.ts';
import { logRank } from '#server/statistics/log-rank.ts';
import { expectClose, expectFigures, figure } from '../support/close.ts';
import { referenceRows } from '../support/tables.ts';

type Row = Readonly<Record<string, string>>;
const life = (day: number, lost: number | boolean, count = 1): Life => ({ day, lost: Boolean(lost), count });

const example = referenceRows('statistics-survival-example.csv');
const lives = (where: (row: Row) => boolean): Life[] =>
  example.filter(where).map((row) => life(Number(row.t), Number(row.e)));
const freireich = (arm: string): Life[] =>
  referenceRows('freireich-6mp.csv')
    .filter((row) => row.arm === arm)
    .map((row) => life(Number(row.time), Number(row.status)));

const sets: Record<string, Life[]> = {
  'survival-example: all': lives(() => true),
  'survival-example: A': lives((row) => row.g === 'A'),
  'all alive': [90, 120, 150].map((day) => life(day, 0)),
  'all lost at one look': [life(28, 1, 3)],
  'lost and last seen the same day': [life(28, 1), life(28, 0), life(28, 1), life(56, 0)],
};

describe('the curve of those alive', () => {
  const table = referenceRows('statistics-survival.csv');
  test.each(Object.entries(sets))('%s', (set, some) => {
    const rows = table.filter((row) => row.set === set && row.what === 'survival');
    const found = kaplanMeier(some, true);
    expect(found.map(({ day, atRisk, lost }) => [day, atRisk, lost])).toEqual(
      rows.map((row) => [Number(row.t), Number(row.n_risk), Number(row.events)]),
    );
    rows.forEach((row, i) => {
      expectClose(found[i]?.share, row.value);
      expectClose(found[i]?.low, row.low);
      expectClose(found[i]?.high, row.high);
    });
    const middle = table.find((row) => row.set === set && row.what === 'median');
    expect(median(found)).toBe(figure(middle?.value));
  });

  test.each(['6-MP', 'placebo'])('remission under %s (Freireich 1963), as R’s survival', (arm) => {
    const rows = referenceRows('freireich-km.csv').filter((row) => row.arm === arm && row.n_event !== '0');
    const found = kaplanMeier(freireich(arm), true);
    expect(found).toHaveLength(rows.length);
    rows.forEach((row, i) => {
      expect([found[i]?.day, found[i]?.atRisk]).toEqual([Number(row.time), Number(row.n_risk)]);
      expectClose(found[i]?.share, row.surv, 6e-9);
      expectClose(found[i]?.low, row.loglog_lo === 'NA' ? '' : row.loglog_lo, 6e-9);
      expectClose(found[i]?.high, row.loglog_hi === 'NA' ? '' : row.loglog_hi, 6e-9);
    });
  });

  test('half of them went by week 23 and week 8; of those lost by week 10 and 8', () => {
    expect(['6-MP', 'placebo'].map((arm) => median(kaplanMeier(freireich(arm), false)))).toEqual([23, 8]);
    expect(['6-MP', 'placebo'].map((arm) => halfOfLosses(freireich(arm)))).toEqual([10, 8]);
  });

  test('nobody, nothing lost, and no band', () => {
    expect([kaplanMeier([], true), halfOfLosses([]), median([])]).toEqual([[], null, null]);
    expect(halfOfLosses(sets['all alive'] ?? [])).toBeNull();
    expect(kaplanMeier([life(0, 1, 4), life(9, 0, 6)], false)).toEqual([
      { day: 0, atRisk: 10, lost: 4, share: 0.6, low: null, high: null },
    ]);
  });

  test('those last seen on a day still count on it', () => {
    expect([0, 28, 29, 56, 57].map((day) => atRiskOn(sets['lost and last seen the same day'] ?? [], day))).toEqual([
      4, 4, 1, 1, 0,
    ]);
  });
});

describe('losses of two ways', () => {
  const table = referenceRows('statistics-survival.csv');
  const of = (what: string): Row => table.find((row) => row.what === what) ?? {};

  test('taken together, and inside strata', () => {
    const together = logRank([{ a: lives((row) => row.g === 'A'), b: lives((row) => row.g === 'B') }]);
    expectClose(together?.chiSquare, of('logrank').value);
    expectClose(together?.p, of('logrank').high);
    const inside = logRank(
      ['1', '2'].map((b) => ({
        a: lives((row) => row.g === 'A' && row.b === b),
        b: lives((row) => row.g === 'B' && row.b === b),
      })),
    );
    expectClose(inside?.chiSquare, of('logrank-stratified').value);
    expectClose(inside?.p, of('logrank-stratified').high);
  });

  test('Freireich 1963: 16.7929409892 with the hypergeometric variance, not 15.23', () => {
    const found = logRank([{ a: freireich('6-MP'), b: freireich('placebo') }]);
    expect(found?.chiSquare).toBeCloseTo(16.7929409892, 8);
    expect(found?.p).toBeCloseTo(4.168809e-5, 11);
  });

  test('nothing lost, or one side only: no answer', () => {
    const alive = sets['all alive'] ?? [];
    expect([logRank([]), logRank([{ a: alive, b: alive }]), logRank([{ a: [life(3, 1)], b: [] }])]).toEqual([
      null,
      null,
      null,
    ]);
  });

  const anyLives = fc.array(
    fc.record({ day: fc.nat(200), lost: fc.boolean(), count: fc.integer({ min: 1, max: 9 }) }),
    { maxLength: 12 },
  );
  test('shares fall from at most 1 to at least 0 inside their limits; swapping sides changes nothing', () => {
    fc.assert(
      fc.property(anyLives, anyLives, (a, b) => {
        const curve = kaplanMeier(a, true);
        const one = logRank([{ a, b }]);
        const other = logRank([{ a: b, b: a }]);
        expectFigures([curve, one]);
        return (
          Math.abs((one?.chiSquare ?? 0) - (other?.chiSquare ?? 0)) < 1e-8 &&
          curve.every(
            ({ share, low, high }, i) =>
              share >= 0 &&
              share < (curve[i - 1]?.share ?? 1) &&
              (low ?? share) <= share &&
              share <= (high ?? share) &&
              (low ?? 0) >= 0 &&
              (high ?? 1) <= 1,
          )
        );
      }),
    );
  });
});
