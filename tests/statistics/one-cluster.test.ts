import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { expected } from '#server/statistics/expected.ts';
import { share } from '#server/statistics/share.ts';
import { wilson } from '#server/statistics/wilson.ts';
import published from '../reference/published-intervals.json' with { type: 'json' };
import { expectClose, expectFigures, list } from '../support/close.ts';
import { referenceRows } from '../support/tables.ts';

describe("Wilson's interval", () => {
  test.each(published.published.wilson)('%d of %d, Newcombe 1998 table I', (taken, judged, low, high) => {
    const found = wilson(taken as number, judged as number);
    expect(found?.low).toBeCloseTo(low as number, 4);
    expect(found?.high).toBeCloseTo(high as number, 4);
  });

  test('0 of n starts at 0 and n of n ends at 1, exactly; nothing judged has none', () => {
    expect([wilson(0, 20)?.low, wilson(20, 20)?.high, wilson(0, 0)]).toEqual([0, 1, null]);
  });

  test('holds the rate, lies inside 0..1, narrows with more, and turns with the sides; fractions too', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 1e6, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (n, p) => {
          const found = wilson(p * n, n);
          const other = wilson(n - p * n, n);
          const more = wilson(p * n * 4, n * 4);
          if (!found || !other || !more) return false;
          return (
            found.low >= 0 &&
            found.high <= 1 &&
            found.low <= p + 1e-12 &&
            p <= found.high + 1e-12 &&
            Math.abs(found.low - (1 - other.high)) < 1e-9 &&
            more.high - more.low <= found.high - found.low + 1e-12
          );
        },
      ),
    );
  });
});

describe('one batch, some of it open', () => {
  test.each(referenceRows('statistics-batch.csv'))('$taken and $failed of $grafted', (row) => {
    const found = share(Number(row.grafted), Number(row.taken), Number(row.failed));
    expect([found.open, found.judged]).toEqual([Number(row.open), Number(row.judged)]);
    for (const key of ['rate', 'low', 'high', 'worst', 'best'] as const) expectClose(found[key], row[key]);
    expectClose(found.outer?.low ?? null, row.outer_low);
    expectClose(found.outer?.high ?? null, row.outer_high);
  });

  test('the outer interval holds whatever the open ones do', () => {
    const whole = fc.nat(60);
    fc.assert(
      fc.property(whole, whole, whole, whole, (taken, failed, later, lost) => {
        const all = taken + failed + later + lost;
        const now = share(all, taken, failed);
        const end = share(all, taken + later, failed + lost);
        expectFigures(now);
        if (all === 0) return now.outer === null && now.worst === null && now.rate === null;
        return (
          (now.outer?.low ?? 2) <= (end.low ?? 0) + 1e-12 &&
          (now.outer?.high ?? -1) >= (end.high ?? 1) - 1e-12 &&
          (now.worst ?? 2) <= (end.rate ?? 0) &&
          (now.best ?? -1) >= (end.rate ?? 1)
        );
      }),
    );
  });
});

describe('what a batch comes to', () => {
  test.each(referenceRows('statistics-open.csv'))('$open of $grafted open', (row) => {
    const later = list(row.finished_taken);
    const finished = list(row.finished_alive_at_age).map((stillOpen, i) => ({ stillOpen, laterTaken: later[i] ?? 0 }));
    const found = expected(Number(row.grafted), Number(row.taken), Number(row.open), finished);
    expectClose(found?.share, row.share);
    expectClose(found?.estimate, row.estimate);
  });

  test('is not said with two finished batches, or with 29 that were open at that age', () => {
    const two = [20, 20].map((stillOpen) => ({ stillOpen, laterTaken: 10 }));
    const few = [10, 10, 9].map((stillOpen) => ({ stillOpen, laterTaken: 5 }));
    const enough = [10, 10, 10].map((stillOpen) => ({ stillOpen, laterTaken: 5 }));
    expect([expected(40, 0, 34, two), expected(40, 0, 34, few), expected(0, 0, 0, enough)]).toEqual([null, null, null]);
    expect(expected(40, 4, 32, enough)).toEqual({ share: 0.5, estimate: 0.5 });
  });
});
