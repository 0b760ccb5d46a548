import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { pooled } from '#server/statistics/pooled.ts';
import { ranking, rankingOfGroups } from '#server/statistics/ranking.ts';
import { effective, spreadOf } from '#server/statistics/spread.ts';
import { counts, expectClose, expectFigures } from '../support/close.ts';
import { referenceRows } from '../support/tables.ts';

const batch = fc.tuple(fc.nat(40), fc.nat(40)).map(([taken, failed]) => ({ taken, judged: taken + failed }));
const batches = fc.array(batch, { maxLength: 8 });

describe('several batches taken together', () => {
  test.each(referenceRows('statistics-pooled.csv'))('$taken of $judged', (row) => {
    const found = pooled(counts(row.taken, row.judged));
    expectClose(found?.rate, row.rate);
    expectClose(found?.icc, row.icc);
    expectClose(found?.spread, row.rho);
    expectClose(found?.effective, row.n_eff);
    expect(found?.df).toBe(Number(row.df));
    expectClose(found?.low, row.low);
    expectClose(found?.high, row.high);
  });

  test('no batch, and batches with nothing judged', () => {
    expect([pooled([]), pooled([{ taken: 0, judged: 0 }])]).toEqual([null, null]);
    const one = { taken: 9, judged: 12 };
    expect(pooled([one, { taken: 0, judged: 0 }])).toEqual(pooled([one]));
  });

  test('75,000 of 100,000 beside 3 of 5 know as much as 13 grafts: 38 to 94 %', () => {
    const found = pooled(counts('75000;3', '100000;5'));
    expect([found?.effective, found?.low, found?.high].map((x) => x?.toFixed(2))).toEqual(['13.33', '0.38', '0.94']);
  });

  test('the interval holds the rate, inside 0..1; no order, no NaN; taken and failed swap it round', () => {
    fc.assert(
      fc.property(batches, (some) => {
        const found = pooled(some);
        expectFigures(found);
        const other = pooled(some.map(({ taken, judged }) => ({ taken: judged - taken, judged })).reverse());
        if (!found || !other) return found === other && some.every((one) => one.judged === 0);
        return (
          0 <= found.low &&
          found.low <= found.rate &&
          found.rate <= found.high &&
          found.high <= 1 &&
          found.effective <= found.judged + 1e-9 &&
          found.effective >= 1 - 1e-9 &&
          Math.abs(found.low - (1 - other.high)) < 1e-9
        );
      }),
    );
  });

  test('batches of one graft: no spread can be told, so the one known beforehand is used', () => {
    const ones = counts('1;1;0;1', '1;1;1;1');
    expect(spreadOf([ones])).toEqual({ icc: null, spread: 0.1, df: 6 });
    expect(effective(ones, 0.1)).toBe(4);
  });
});

function cases(name: string): [string, Readonly<Record<string, string>>[]][] {
  const rows = referenceRows(name);
  return [...new Set(rows.map((row) => row.case ?? ''))].map((one) => [one, rows.filter((row) => row.case === one)]);
}

describe('better and worse than usual', () => {
  test.each(cases('statistics-ranking.csv'))('batches, case %s', (_, rows) => {
    const found = ranking(rows.map((row) => ({ taken: Number(row.taken), judged: Number(row.judged) })));
    if (rows.length < 2) return expect(found).toBeNull();
    rows.forEach((row, i) => {
      const item = found?.items[i];
      expectClose(found?.usual, row.usual);
      expectClose(found?.spread, row.rho);
      expectClose(item?.estimate, row.estimate);
      expectClose(item?.low, row.low);
      expectClose(item?.high, row.high);
      expect(item?.word).toBe(row.word);
    });
  });

  test.each(cases('statistics-ranking-pairs.csv'))('pairs of several batches, case %s', (_, rows) => {
    const groups = rows.map((row) => counts(row.taken, row.judged));
    const found = rankingOfGroups(groups);
    const inside = spreadOf(groups).spread;
    rows.forEach((row, i) => {
      expectClose(inside, row.rho_inside);
      expectClose(effective(groups[i] ?? [], inside), row.n_eff);
      expectClose(found?.usual, row.usual);
      expectClose(found?.spread, row.rho);
      expectClose(found?.items[i]?.estimate, row.estimate);
      expectClose(found?.items[i]?.low, row.low);
      expectClose(found?.items[i]?.high, row.high);
      expect(found?.items[i]?.word).toBe(row.word);
    });
  });

  test('0 of 20 beside 20 of 20 are told apart; 3 of 3 alone says nothing', () => {
    expect(ranking(counts('0;20', '20;20'))?.items.map((item) => item.word)).toEqual(['worse', 'better']);
    expect([ranking(counts('3', '3')), ranking([]), rankingOfGroups([counts('3;4', '5;5')])]).toEqual([
      null,
      null,
      null,
    ]);
  });

  test('rat tumours (Tarone 1982): moments come near the beta-binomial maximum of 71 groups', () => {
    const rows = referenceRows('rat-tumours-eb.csv');
    const found = ranking(rows.map((row) => ({ taken: Number(row.y), judged: Number(row.n) })));
    // Maximum likelihood: mean 0.1423, correlation 0.0573 (computed in R).
    expect(found?.usual).toBeCloseTo(0.1423, 2);
    expect(Math.abs((found?.spread ?? 1) - 0.0573)).toBeLessThan(0.02);
    rows.forEach((row, i) => {
      expect(Math.abs((found?.items[i]?.estimate ?? 1) - Number(row.eb_mean))).toBeLessThan(0.02);
    });
  });

  test('batting averages (Efron & Morris 1975): shrunken ones foretell the rest of the season better, and none stands out', () => {
    const rows = referenceRows('efron-morris.csv');
    const found = ranking(rows.map((row) => ({ taken: Number(row.hits), judged: Number(row.at_bats) })));
    const error = (estimate: (i: number) => number): number =>
      rows.reduce((sum, row, i) => sum + (estimate(i) - Number(row.remainder_avg)) ** 2, 0);
    const raw = error((i) => Number(rows[i]?.hits) / 45);
    // Published: 0.0753 raw and 0.0213 with their factor (computed from the averages seen).
    expect(raw).toBeCloseTo(0.0753, 4);
    expect(error((i) => found?.items[i]?.estimate ?? 1)).toBeLessThan(raw / 2);
    expect(found?.items.every((item) => item.word === 'same')).toBe(true);
  });

  test('an estimate lies between its own rate and the usual one, inside its limits; no NaN', () => {
    fc.assert(
      fc.property(batches, (some) => {
        const found = ranking(some);
        expectFigures(found);
        if (!found) return some.filter((one) => one.judged > 0).length < 2;
        return found.items.every(({ estimate, low, high }, i) => {
          const { taken, judged } = some[i] ?? { taken: 0, judged: 0 };
          const rate = judged > 0 ? taken / judged : found.usual;
          return (
            estimate >= Math.min(rate, found.usual) - 1e-9 &&
            estimate <= Math.max(rate, found.usual) + 1e-9 &&
            0 <= low &&
            low <= estimate &&
            estimate <= high &&
            high <= 1
          );
        });
      }),
    );
  });
});
