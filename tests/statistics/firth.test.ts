import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type FirthRow, firth } from '#server/statistics/firth.ts';
import { profile } from '#server/statistics/profile.ts';
import { type AtValue, slope } from '#server/statistics/slope.ts';
import { expectClose, expectFigures } from '../support/close.ts';
import { referenceRows } from '../support/tables.ts';

const expectedOf = (set: string, term: string): Readonly<Record<string, string>> =>
  referenceRows('statistics-firth.csv').find((row) => row.set?.startsWith(set) && row.term === term) ?? {};

const one = (facts: readonly number[], taken: number, stratum = 0): FirthRow => ({ stratum, facts, taken, judged: 1 });

const endometrial = referenceRows('endometrial.csv').map((row) =>
  one([Number(row.NV), Number(row.PI), Number(row.EH)], Number(row.HG)),
);
const orings = referenceRows('challenger-orings.csv').map((row) => one([Number(row.temp_f)], Number(row.any_distress)));
const separated = [1, 2, 3, 4, 5, 6].map((x) => one([x], x > 3 ? 1 : 0));
const fiveAndNone: FirthRow[] = [0, 1].map((x) => ({ stratum: 0, facts: [x], taken: 5 * x, judged: 5 }));
const depths = referenceRows('statistics-depth-example.csv').map((row) =>
  one([Number(row.x) / 10], Number(row.y), Number(row.b) - 1),
);

describe("Firth's estimates, limits and test", () => {
  const cases: [string, readonly FirthRow[], readonly string[]][] = [
    ['endometrial', endometrial, ['NV', 'PI', 'EH']],
    ['challenger-orings', orings, ['temp_f']],
    ['x 1..6', separated, ['x']],
    ['five taken of five', fiveAndNone, ['group']],
    ['statistics-depth-example', depths, ['depth10']],
  ];
  test.each(cases.flatMap(([set, rows, terms]) => terms.map((term, fact) => ({ set, term, fact, rows }))))(
    '$set, $term',
    ({ set, term, fact, rows }) => {
      const wanted = expectedOf(set, term);
      const fit = firth(rows);
      expectClose(fit?.slopes[fact], wanted.estimate);
      expectClose(fit?.errors[fact], wanted.se);
      expectClose(fit?.likelihood, wanted.penalised_loglik);
      const limits = fit && profile(rows, fit, fact, 50);
      expectClose(limits?.low, wanted.low, 1e-7);
      expectClose(limits?.high, wanted.high, 1e-7);
      expectClose(limits?.ratio, wanted.lr, 1e-7);
      expectClose(limits?.p, wanted.p, 1e-7);
    },
  );

  test.each(['endometrial', 'challenger-orings', 'x 1..6', 'five taken of five'])('%s, intercept', (set) => {
    const rows = { endometrial, 'challenger-orings': orings, 'x 1..6': separated, 'five taken of five': fiveAndNone }[
      set
    ];
    expectClose(firth(rows ?? [])?.intercepts[0], expectedOf(set, 'one').estimate);
  });

  test('alike rows may be counted together', () => {
    const apart = [0, 1].flatMap((x) => Array.from({ length: 5 }, () => one([x], x)));
    expect(firth(apart)?.slopes[0]).toBeCloseTo(firth(fiveAndNone)?.slopes[0] ?? 0, 9);
  });

  test('a fact that is the same all through can not be told from the intercept', () => {
    expect(firth([one([2], 0), one([2], 1)])).toBeNull();
  });
});

const batchesOf = (rows: readonly FirthRow[], times = 1): AtValue[][] =>
  [0, 1, 2].map((stratum) =>
    rows
      .filter((row) => row.stratum === stratum)
      .map(({ facts, taken }) => ({ value: (facts[0] ?? 0) * times, taken, judged: 1 })),
  );

describe('more of a fact, more takes', () => {
  test('the worked example: slope, limits and p don’t mind centre and scale', () => {
    const wanted = expectedOf('statistics-depth-example', 'depth10');
    const found = slope(batchesOf(depths));
    expectClose(found.slope, wanted.estimate);
    expectClose(found.low, wanted.low, 1e-7);
    expectClose(found.high, wanted.high, 1e-7);
    expectClose(found.p, wanted.p, 1e-7);
    expect(found).toMatchObject({ n: 36, clusters: 3, rarer: 13, word: 'unclear' });
    expect(slope(batchesOf(depths, 10)).slope).toBeCloseTo((found.slope ?? 0) / 10, 9);
  });

  test('in rates: from the 10th to the 90th percentile, around the rate of all', () => {
    const { slope: steep, lowAt, highAt, points, pointsLow, pointsHigh } = slope(batchesOf(depths));
    // By hand, R's type 7: between the 4th and 5th (25 and 27), and the 32nd and 33rd (45 and 48), halfway.
    expect([lowAt, highAt]).toEqual([2.6, 4.65]);
    const mean = depths.reduce((sum, row) => sum + (row.facts[0] ?? 0), 0) / 36;
    const at = (x: number) => 1 / (1 + Math.exp(-(Math.log(23 / 13) + (steep ?? 0) * (x - mean))));
    expect(points).toBeCloseTo(at(4.65) - at(2.6), 10);
    expect([pointsLow ?? 1, pointsHigh ?? -1].map(Math.sign)).toEqual([-1, 1]);
  });

  test('too few losses, too few values, one value a batch, nothing at all', () => {
    const at = (value: number, taken: number, judged: number): AtValue => ({ value, taken, judged });
    expect(slope([[at(30, 18, 20), at(40, 13, 20)]])).toMatchObject({ word: 'too-few', rarer: 9, slope: null });
    expect(slope([[at(30, 12, 20), at(40, 13, 20)]])).toMatchObject({ word: 'too-few', rarer: 15 });
    expect(slope([[at(30, 12, 20)], [at(40, 13, 20)]])).toMatchObject({ word: 'one-value', n: 40, clusters: 2 });
    expect(slope([])).toMatchObject({ word: 'too-few', n: 0, p: null });
  });

  test('batches all taken or all lost say nothing, and of more than 60 the newest count', () => {
    const mixed = batchesOf(depths);
    const all: AtValue[] = [20, 30, 40].map((value) => ({ value, taken: 9, judged: 9 }));
    expect(slope([all, ...mixed, all])).toEqual(slope(mixed));
    const [first] = mixed;
    const many = Array.from({ length: 61 }, (_, i) => (i === 0 ? (first ?? []).slice(0, 5) : (first ?? [])));
    expect(slope(many)).toMatchObject({ clusters: 60, n: 720 });
  });

  test('a perfect split still has a slope, a limit far out has none; never NaN', () => {
    const split: AtValue[] = [10, 20, 30, 40].map((value) => ({ value, taken: value > 20 ? 12 : 0, judged: 12 }));
    const found = slope([split]);
    expectFigures(found);
    expect(found.word).toBe('better');
    const row = fc.record({ value: fc.constantFrom(0.3, 0.35, 0.4, 0.5), taken: fc.nat(9), failed: fc.nat(9) });
    fc.assert(
      fc.property(fc.array(fc.array(row, { maxLength: 4 }), { maxLength: 5 }), (batches) => {
        const some = batches.map((batch) =>
          batch.map(({ value, taken, failed }) => ({ value, taken, judged: taken + failed })),
        );
        const result = slope(some);
        const failed = slope(some.map((batch) => batch.map((one) => ({ ...one, taken: one.judged - one.taken }))));
        expectFigures(result);
        if (result.slope === null) return failed.slope === null;
        return (
          Math.abs(result.slope + (failed.slope ?? 99)) < 1e-5 * (1 + Math.abs(result.slope)) &&
          (result.low ?? -1e9) <= result.slope &&
          result.slope <= (result.high ?? 1e9) &&
          Math.abs(result.points ?? 9) <= 1
        );
      }),
      { numRuns: 60 },
    );
  });
});
