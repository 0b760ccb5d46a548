import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { betaBinomialTail, fewestTrials } from '#server/statistics/beta-binomial.ts';
import { plan } from '#server/statistics/plan.ts';
import { counts, expectClose, expectFigures, figure } from '../support/close.ts';
import { referenceRows } from '../support/tables.ts';

describe('how many so that enough succeed', () => {
  test.each(referenceRows('statistics-plan.csv'))('$takes at $confidence from $taken of $judged', (row) => {
    const own = counts(row.taken, row.judged);
    const takes = Number(row.takes);
    const found = plan({
      takes,
      confidence: Number(row.confidence),
      clusters: Number(row.batches_planned),
      prior: Number(row.prior),
      records: [[own]],
    });
    expectClose(found.spread, row.rho);
    expectClose(found.effective, row.n_eff);
    expectClose(found.mean, row.mean);
    expectClose(found.a, row.a);
    expectClose(found.b, row.b);
    expect(found.trials).toBe(figure(row.graft));
    expectClose(found.chance, row.chance);
    expect(found.expected).toBe(found.trials === null ? null : found.trials * found.mean);
    if (found.trials !== null && found.trials > takes) {
      expectClose(betaBinomialTail(takes, found.trials - 1, found.a, found.b), row.before);
    }
  });

  // Computed in R by summing the whole upper tail (make-shrinkage-planning.R).
  test.each([
    [10, 8, 2, 17],
    [20, 16, 4, 31],
    [20, 40, 10, 29],
    [50, 40, 10, 71],
  ])('%d wanted at a rate from Beta(%d, %d): %d', (wanted, a, b, trials) => {
    expect(fewestTrials(wanted, 0.9, a, b, 1000)).toBe(trials);
  });

  test('a rate known for certain is the binomial: 5 of 14 at one half, ties kept', () => {
    // Exact in binomial arithmetic: 0.9101... with 14, and with 15 wanted of 29 exactly one half.
    expect(fewestTrials(5, 0.9, 5e6, 5e6, 1000)).toBe(14);
    expect(betaBinomialTail(15, 29, 5e6, 5e6)).toBeCloseTo(0.5, 4);
  });

  test('uniform rate: every number of successes is as likely', () => {
    expect(betaBinomialTail(3, 9, 1, 1)).toBeCloseTo(0.7, 12);
    expect([betaBinomialTail(0, 0, 1, 1), betaBinomialTail(3, 2, 1, 1)]).toEqual([1, 0]);
  });

  test('one wanted, and .99 sure with a poor rate: no number will do, the chance at the cap is given', () => {
    const poor = plan({ takes: 50, confidence: 0.99, clusters: 1, prior: 0.4, records: [] });
    expect(poor).toMatchObject({ trials: null, expected: null, cap: 1000 });
    expect(poor.chance).toBeLessThan(0.99);
    expect(plan({ takes: 1, confidence: 0.9, clusters: 1, prior: 0.4, records: [] }).trials).toBe(14);
  });

  test('a chain: what other pairs did stands between the prior and the own record', () => {
    const own = counts('10', '20');
    const others = [counts('2;3', '20;20'), counts('1', '10')];
    const mean = (records: Parameters<typeof plan>[0]['records']) =>
      plan({ takes: 20, confidence: 0.9, clusters: 1, prior: 0.75, records }).mean;
    expect(mean([others, []])).toBeLessThan(0.35);
    expect(mean([others, [own]])).toBeGreaterThan(mean([others, []]));
    expect(mean([others, [own]])).toBeLessThan(mean([[], [own]]));
  });

  test('more wanted needs more, more batches fewer; the chance is met and one fewer misses it', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 120 }),
        fc.constantFrom(0.5, 0.8, 0.9, 0.95),
        fc.double({ min: 0.2, max: 0.95, noNaN: true }),
        fc.array(
          fc.tuple(fc.nat(30), fc.nat(30)).map(([taken, failed]) => ({ taken, judged: taken + failed })),
          { maxLength: 5 },
        ),
        (takes, confidence, prior, own) => {
          const ask = { takes, confidence, prior, records: [[own]] };
          const found = plan({ ...ask, clusters: 1 });
          const spreadOut = plan({ ...ask, clusters: 4 });
          expectFigures([found, spreadOut]);
          if (found.trials === null) return found.chance < confidence;
          const more = plan({ ...ask, takes: takes + 1, clusters: 1 });
          return (
            found.trials >= takes &&
            found.chance >= confidence - 1e-9 &&
            betaBinomialTail(takes, found.trials - 1, found.a, found.b) < confidence - 1e-9 + 1e-12 &&
            (more.trials ?? Number.POSITIVE_INFINITY) > found.trials &&
            // one batch may luckily do better than its mean: spreading helps only who asks for more than that
            (confidence < 0.9 ||
              confidence <= found.mean + 0.02 ||
              (spreadOut.trials ?? Number.POSITIVE_INFINITY) <= found.trials)
          );
        },
      ),
      { numRuns: 60 },
    );
  });
});
