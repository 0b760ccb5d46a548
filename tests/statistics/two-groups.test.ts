import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { acrossClusters } from '#server/statistics/across.ts';
import { compare, type Sitting } from '#server/statistics/compare.ts';
import { exactTest, outcomes, type Stratum } from '#server/statistics/exact-test.ts';
import { holm } from '#server/statistics/holm.ts';
import { mantelHaenszel } from '#server/statistics/mantel-haenszel.ts';
import { newcombe } from '#server/statistics/newcombe.ts';
import { tied } from '#server/statistics/tied.ts';
import { bothDifferences, turned } from '#server/statistics/turned.ts';
import { verdict } from '#server/statistics/verdict.ts';
import { wilson } from '#server/statistics/wilson.ts';
import { withinStrata } from '#server/statistics/within.ts';
import published from '../reference/published-intervals.json' with { type: 'json' };
import { counts, expectClose, expectFigures, list } from '../support/close.ts';
import { referenceRows } from '../support/tables.ts';

const stratum = (takenA: number, judgedA: number, takenB: number, judgedB: number): Stratum => ({
  a: { taken: takenA, judged: judgedA },
  b: { taken: takenB, judged: judgedB },
});
const strataOf = (row: Readonly<Record<string, string>>): Stratum[] => {
  const b = counts(row.taken_b, row.judged_b);
  return counts(row.taken_a, row.judged_a).map((a, i) => ({ a, b: b[i] ?? { taken: 0, judged: 0 } }));
};
const swapped = ({ a, b }: Stratum): Stratum => ({ a: b, b: a });

const anyCounts = fc.tuple(fc.nat(15), fc.nat(15)).map(([taken, failed]) => ({ taken, judged: taken + failed }));
const anyStrata = fc.array(fc.record({ a: anyCounts, b: anyCounts }), { maxLength: 6 });
const anySittings: fc.Arbitrary<Sitting[]> = fc.array(
  fc.record({ cluster: fc.constantFrom('K26', 'K27', 'S27'), a: anyCounts, b: anyCounts }),
  { maxLength: 7 },
);

describe("Newcombe's interval of a difference", () => {
  test.each(published.difference_method10.rows)('%d of %d less %d of %d, table II', (x, m, y, n, low, high) => {
    const found = withinStrata([stratum(x as number, m as number, y as number, n as number)]);
    expect(Math.abs((found?.low ?? 9) - (low as number))).toBeLessThan(5.1e-5);
    expect(Math.abs((found?.high ?? 9) - (high as number))).toBeLessThan(5.1e-5);
  });

  test.each(referenceRows('difference-of-proportions.csv'))('$a of $m less $b of $n, ten digits', (row) => {
    const [a, m, b, n] = [row.a, row.m, row.b, row.n].map(Number) as [number, number, number, number];
    const side = (taken: number, judged: number) => ({
      rate: taken / judged,
      ...(wilson(taken, judged) ?? { low: 0, high: 1 }),
    });
    const found = newcombe(side(a, m), side(b, n));
    expectClose(found.low, row.m10_lo?.trim());
    expectClose(found.high, row.m10_hi?.trim());
  });
});

describe('the exact test', () => {
  test.each(published.fisher_two_sided_exact_fractions)('%d of %d and %d of %d: %s', (x, m, y, n, fraction) => {
    const [above, below] = String(fraction).split('/').map(Number) as [number, number];
    expect(exactTest([stratum(x as number, m as number, y as number, n as number)])).toBeCloseTo(above / below, 10);
  });

  test("criminal twins, R's help of fisher.test: p = 0.0005367241", () => {
    expect(exactTest([stratum(2, 12, 15, 18)])).toBeCloseTo(0.0005367241, 10);
  });

  test('side by side or not, swapping the ways or taken with failed changes nothing', () => {
    fc.assert(
      fc.property(anyStrata, (strata) => {
        const p = exactTest(strata);
        const failed = strata.map(({ a, b }) => stratum(a.judged - a.taken, a.judged, b.judged - b.taken, b.judged));
        return (
          p >= 0 &&
          p <= 1 &&
          Math.abs(p - exactTest(strata.map(swapped))) < 1e-9 &&
          Math.abs(p - exactTest(failed)) < 1e-9
        );
      }),
    );
  });
});

describe('within sittings that hold both', () => {
  test.each(referenceRows('statistics-compare-within.csv'))('$taken_a of $judged_a, $taken_b of $judged_b', (row) => {
    const strata = strataOf(row);
    const found = withinStrata(strata);
    expect(found?.strata).toBe(Number(row.strata));
    expectClose(found?.difference, row.diff);
    expectClose(found?.low, row.low);
    expectClose(found?.high, row.high);
    expectClose(exactTest(strata), row.p_exact);
    const mh = mantelHaenszel(strata);
    expectClose(mh.chiSquare, row.cmh);
    expectClose(mh.p, row.p_cmh);
    expectClose(mh.oddsRatio, row.or_mh);
  });

  test("UC Berkeley's admissions: R's mantelhaen.test gives 1.524606660 without correction, odds ratio 0.9046968283", () => {
    const cells = referenceRows('ucb-admissions.csv');
    const freq = (admit: string, gender: string, dept: string): number =>
      Number(cells.find((row) => row.Admit === admit && row.Gender === gender && row.Dept === dept)?.Freq);
    const strata = [...'ABCDEF'].map((dept) => {
      const [m, f] = [freq('Admitted', 'Male', dept), freq('Admitted', 'Female', dept)];
      return stratum(m, m + freq('Rejected', 'Male', dept), f, f + freq('Rejected', 'Female', dept));
    });
    const found = mantelHaenszel(strata);
    expect(found.chiSquare).toBeCloseTo(1.52460666, 8);
    expect(found.oddsRatio).toBeCloseTo(0.9046968283, 9);
    // Men ahead by 14 points taken together, by none inside the departments: Simpson's paradox nearly turns it round.
    expect(bothDifferences(strata)?.crude).toBeCloseTo(0.1416, 4);
    expect(Math.sign(withinStrata(strata)?.difference ?? 1)).toBe(-1);
  });

  test('over 20,000 outcomes the sum is tested by Cochran-Mantel-Haenszel', () => {
    const strata = [stratum(20_000, 40_000, 20_500, 40_000)];
    expect(outcomes(strata)).toBeGreaterThan(20_000);
    expect(withinStrata(strata)?.p).toBe(mantelHaenszel(strata).p);
  });

  test('a stratum with one side empty adds nothing', () => {
    const both = stratum(8, 10, 5, 9);
    expect(withinStrata([both, stratum(4, 5, 0, 0)])).toEqual(withinStrata([both]));
    expect(withinStrata([stratum(4, 5, 0, 0)])).toBeNull();
  });
});

describe('over whole batches', () => {
  test.each(referenceRows('statistics-compare-across.csv'))('$taken_a of $judged_a, $taken_b of $judged_b', (row) => {
    const found = acrossClusters(counts(row.taken_a, row.judged_a), counts(row.taken_b, row.judged_b));
    expectClose(found?.difference, row.diff);
    expectClose(found?.low, row.low);
    expectClose(found?.high, row.high);
    expectClose(found?.spread, row.rho);
    expect(found?.df).toBe(Number(row.df));
    expectClose(found?.effectiveA, row.n_eff_a);
    expectClose(found?.effectiveB, row.n_eff_b);
    expectClose(found?.p, row.p);
  });
});

describe('which comparison', () => {
  const sitting = (cluster: string, ...four: [number, number, number, number]): Sitting => ({
    cluster,
    ...stratum(...four),
  });

  test('ten of each in common sittings: only these count', () => {
    const found = compare([sitting('K26', 8, 10, 5, 10), sitting('K27', 20, 20, 0, 0), sitting('S27', 0, 0, 3, 20)]);
    expect(found).toMatchObject({ kind: 'within', sittings: 1, clusters: 1, a: { judged: 10 }, b: { judged: 10 } });
  });

  test('nine of one in a common sitting, and batches apart: all batches count', () => {
    const found = compare([sitting('K26', 8, 9, 5, 10), sitting('K27', 18, 20, 0, 0), sitting('S27', 0, 0, 3, 20)]);
    expect(found).toMatchObject({ kind: 'across', clusters: 3, a: { judged: 29 }, b: { judged: 30 } });
  });

  test('few in common sittings and nothing else: these', () => {
    expect(compare([sitting('K26', 2, 3, 1, 3)])).toMatchObject({ kind: 'within', sittings: 1 });
  });

  test('ways that share a batch and no sitting of it: its sittings are what is compared', () => {
    const found = compare([sitting('K26', 8, 10, 0, 0), sitting('K26', 9, 10, 0, 0), sitting('K26', 0, 0, 5, 10)]);
    const apart = acrossClusters(counts('8;9', '10;10'), counts('5', '10'));
    expect(found).toMatchObject({ kind: 'across', low: apart?.low, high: apart?.high, p: apart?.p });
  });

  test('one batch a side: how those two did, no interval', () => {
    const found = compare([sitting('K26', 8, 10, 0, 0), sitting('K27', 0, 0, 2, 10)]);
    expect(found).toMatchObject({ kind: 'one-each', low: null, high: null, p: null });
    expect(found?.difference).toBeCloseTo(0.6, 12);
  });

  test('nothing judged of a way: no comparison', () => {
    expect([compare([]), compare([sitting('K26', 8, 10, 0, 0)])]).toEqual([null, null]);
  });

  test('the difference lies in its limits, inside -1..1; swapped sides turn every sign; no NaN', () => {
    fc.assert(
      fc.property(anySittings, (sittings) => {
        const found = compare(sittings);
        const other = compare(sittings.map((one) => ({ ...one, ...swapped(one) })));
        expectFigures(found);
        if (!found || !other) return found === other;
        if (found.kind !== other.kind || Math.abs(found.difference + other.difference) > 1e-12) return false;
        if (found.low === null || found.high === null) return found.kind === 'one-each';
        return (
          -1 <= found.low &&
          found.low <= found.difference + 1e-12 &&
          found.difference <= found.high + 1e-12 &&
          found.high <= 1 &&
          Math.abs(found.low + (other.high ?? 9)) < 1e-9 &&
          Math.abs((found.p ?? 9) - (other.p ?? 0)) < 1e-9
        );
      }),
    );
  });
});

describe('many comparisons', () => {
  test("as R's p.adjust(c(.01, .04, .03, .005), 'holm'); one without a p is no look", () => {
    expect(holm([0.01, 0.04, null, 0.03, 0.005]).map((p) => p?.toFixed(3))).toEqual([
      '0.030',
      '0.060',
      undefined,
      '0.060',
      '0.020',
    ]);
    expect(holm([])).toEqual([]);
  });

  test('never below its own p, at most 1, and in the order of the ps', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 1, noNaN: true })), (ps) => {
        const adjusted = holm(ps) as number[];
        return ps.every(
          (p, i) =>
            (adjusted[i] ?? 0) >= p - 1e-15 &&
            (adjusted[i] ?? 2) <= 1 &&
            ps.every((other, j) => other < p || (adjusted[j] ?? 0) >= (adjusted[i] ?? 2)),
        );
      }),
    );
  });
});

describe('what may be said', () => {
  test.each([
    [0.05, 0.4, 0.01, true, 'better'],
    [-0.4, -0.05, 0.01, true, 'worse'],
    [0.05, 0.4, 0.05, true, 'unclear'],
    [0.05, 0.4, 0.01, false, 'unclear'],
    [0.01, 0.09, 0.2, true, 'unclear'],
    [-0.08, 0.1, 0.9, true, 'alike'],
    [-0.08, 0.11, 0.9, true, 'unclear'],
  ] as const)('from %d to %d, p %d, apart %s: %s', (low, high, p, apart, word) => {
    expect(verdict({ low, high }, p, apart)).toBe(word);
  });

  test('without an interval nothing', () => {
    expect(verdict(null, null, true)).toBe('unclear');
  });
});

describe('facts that went together with the two ways', () => {
  test.each(referenceRows('statistics-confounding.csv'))('A in $judged_a_by_level, B in $judged_b_by_level', (row) => {
    const b = list(row.judged_b_by_level);
    const found = tied(list(row.judged_a_by_level).map((a, i) => ({ a, b: b[i] ?? 0 })));
    expectClose(found?.overlap, row.overlap);
    expect(found?.word).toBe(row.word);
  });

  test('nothing judged: nothing to say', () => {
    expect(tied([{ a: 0, b: 0 }])).toBeNull();
  });

  test('jo did the easy pairs: 12 points ahead together, 10 behind in each', () => {
    // Easy pair: jo 80 of 100, mk 9 of 10. Hard one: jo 3 of 10, mk 40 of 100.
    const found = turned([stratum(80, 100, 9, 10), stratum(3, 10, 40, 100)]);
    expect(found?.crude).toBeCloseTo(83 / 110 - 49 / 110, 12);
    expect(found?.within).toBeCloseTo(-0.1, 12);
    expect(turned([stratum(80, 100, 8, 10), stratum(3, 10, 33, 100)])).toBeNull();
  });
});
