import { describe, expect, test } from 'vitest';
import { parseIso } from '#grammar/values/date.ts';
import { size, union } from '#grammar/values/intervals.ts';
import type { GroupKey } from '#server/engine/figures/levels.ts';
import { type PlanAsked, type PlanResult, planOf } from '#server/engine/figures/plan.ts';
import { benchSittings, numbersByWay, type TrialResult, trialOf } from '#server/engine/figures/trial.ts';
import { planSentence, trialSentence } from '#server/engine/figures/words-ahead.ts';
import { batchesLog, recordOf } from '../../support/figures.ts';

const plain = (text: string) => text.replaceAll('\u00A0', ' ');
const planFor = (log: string, asked: Partial<PlanAsked>): PlanResult | undefined => {
  const { histories, env } = recordOf(log);
  return planOf(histories, { takes: 50, confidence: 0.9, batches: 1, ...asked }, env);
};

// Counts of the sixth row of statistics-plan.csv; autumn pines, for which practice expects 75 %.
const record = batchesLog(
  { name: 'K1', taken: 18, failed: 2, on: '2023-10-10' },
  { name: 'K2', taken: 30, failed: 10, on: '2024-10-10' },
  { name: 'K3', taken: 9, failed: 1, on: '2025-10-10' },
  { name: 'K4', taken: 44, failed: 16, on: '2026-10-10' },
);

describe('how many to graft', () => {
  test('from the pair’s own record', () => {
    const found = planFor(record, { like: 'K4' });
    expect(found?.plan).toMatchObject({ takes: 50, confidence: 0.9, graft: 82, batches: 1 });
    expect(found?.plan.chance).toBeCloseTo(0.9035150746, 8);
    expect(found?.plan.because).toMatchObject({ prior: { rate: 0.75, weight: 4 }, judged: 130, batches: 4, naive: 65 });
    expect(found?.plan.because.effective).toBeCloseTo(40.0096945726, 8);
    expect(found?.plan.because.spread).toBeCloseTo(0.0524950854, 8);
    expect(found?.plan.because.mean).toBeCloseTo(0.7744760636, 8);
    expect(found && plain(planSentence(found))).toBe(
      'For 50 takes, 9 times in 10: graft 82. (50 / 0.78 = 65 would reach it about half the time.) Spread over 3 batches on different days, 77 are enough.',
    );
  });

  test('over three batches, as the table has it', () => {
    expect(planFor(record, { like: 'K4', batches: 3 })?.plan).toMatchObject({ graft: 77, batches: 3 });
  });

  test('a pair by its name, however it is typed', () => {
    const byName = planFor(record, { like: 'pinus parviflora  ‘Kokonoe’ / Pinus thunbergii' });
    expect(byName?.plan).toEqual(planFor(record, { like: 'k4' })?.plan);
    expect(planFor(record, { like: 'Z9' })).toBeUndefined();
  });

  test('nothing on record: practice’s prior, and it says so', () => {
    const found = planFor('site Drumlin-Lane lat 47.90 lon 8.10', {});
    expect(found?.plan.because).toMatchObject({ prior: { rate: 0.6, weight: 4 }, judged: 0, batches: 0, effective: 0 });
    expect(found && plain(planSentence(found))).toContain('So many because nothing is on record yet.');
  });

  test('a nursery’s own prior line stands over the shipped one', () => {
    const own =
      'practice needle made autumn prior 50% source "ten years here"\nbatch K1 Pinus parviflora / Pinus thunbergii side-veneer\n2026-10-10 graft K1.1..9';
    expect(planFor(own, { like: 'K1' })?.plan.because.prior).toMatchObject({ rate: 0.5, source: 'ten years here' });
  });

  test('other pairs of the group and season stand between; other seasons don’t', () => {
    const young = 'batch N1 Pinus mugo / Pinus sylvestris side-veneer\n2028-10-10 graft N1.1..9';
    const mean = (log: string) => planFor(`${log}\n${young}`, { like: 'N1' })?.plan.because.mean ?? 0;
    const poor = { taken: 4, failed: 36, pair: 'Abies koreana / Abies nordmanniana' };
    expect(mean('')).toBeCloseTo(0.75, 12);
    expect(mean(batchesLog({ name: 'P1', ...poor }, { name: 'P2', ...poor }))).toBeLessThan(0.4);
    expect(mean(batchesLog({ name: 'P1', ...poor, on: '2027-04-10' }))).toBeCloseTo(0.75, 12);
  });

  test('no number will do: the chance with the most looked at', () => {
    const poor = batchesLog(
      { name: 'K1', taken: 1, failed: 19 },
      { name: 'K2', taken: 15, failed: 5, on: '2025-10-10' },
    );
    const found = planFor(poor, { like: 'K1', confidence: 0.99 });
    expect(found?.plan).toMatchObject({ graft: null, expected: null, needs: { missing: [] } });
    expect(found && plain(planSentence(found))).toMatch(
      /^No number of grafts up to 1000 makes 50 takes 99 % sure; with 1000 it is \d+ %\.$/,
    );
  });

  test('needs: wood a tenth more, film by the union’s size, hours by the task, room by the place', () => {
    const log = `place frame frost-free capacity 90
batch K1 Pinus parviflora / Pinus thunbergii side-veneer in frame film 38mm long 30mm
2026-10-10 graft K1.1..20 stock 10mm
2027-06-10 take K1.1..15
2027-06-10 fail K1.16..20 dried`;
    const found = planFor(log, { like: 'K1', takes: 20 });
    const n = found?.plan.graft ?? 0;
    expect(found?.plan.needs).toMatchObject({ scions: n, wood: Math.ceil(n * 1.1), understocks: n, missing: [] });
    expect(found?.plan.needs.places).toEqual([
      { name: 'frame', from: parseIso('2030-10-10'), to: null, capacity: 90, standing: 15, free: 75 },
    ]);
    // 30 mm of union in turns that move on by 19 mm, each 31.4 mm round: 49.6 mm a graft.
    expect(found?.plan.needs.film).toBeCloseTo((n * (30 / 19) * Math.PI * 10) / 1000, 12);
    // practice.graft: 5 minutes a graft.
    expect(found?.plan.needs.hours).toBeCloseTo((n * 5) / 60, 12);
    expect(planFor(record, { like: 'K4' })?.plan.needs).toMatchObject({ missing: ['film', 'places'] });
  });
});

describe('a field trial', () => {
  const trialFor = (
    log: string,
    ways: readonly [string, string],
    more: { points?: number; seed?: number; key?: GroupKey } = {},
  ) => {
    const { histories, env } = recordOf(log, '2028-10-05');
    return trialOf(histories, { ways, ...more }, env);
  };
  const even = batchesLog(
    { name: 'A1', taken: 30, failed: 10, on: '2025-10-10' },
    { name: 'A2', taken: 30, failed: 10, on: '2026-10-10' },
    { name: 'A3', taken: 30, failed: 10, on: '2027-10-10' },
  );

  test('two methods share a sitting: 49 each from 75 %', () => {
    const { trial, key } = trialFor(even, ['side-veneer', 'cleft']) as TrialResult;
    expect(key).toBe('method');
    expect(trial).toMatchObject({ rate: 0.75, points: 0.2, each: 49, sittings: 4, reachable: true, seed: 202810 });
    expect(trial.order).toHaveLength(98);
    const sittings = benchSittings(trial);
    // whole runs of six, so that both ways are in each sitting alike
    expect(sittings.map(({ first, order }) => [first, order.length])).toEqual([
      [1, 30],
      [31, 24],
      [55, 24],
      [79, 20],
    ]);
    const ways = sittings.map(numbersByWay);
    expect(ways.map(({ a, b }) => [size(a), size(b)])).toEqual([
      [15, 15],
      [12, 12],
      [12, 12],
      [10, 10],
    ]);
    expect(ways.flatMap(({ a, b }) => [a, b]).reduce(union)).toEqual([1, 98]);
    expect(plain(trialSentence(trialFor(even, ['side-veneer', 'cleft']) as TrialResult))).toBe(
      'To see that one way is 20 points better (95 against 75 %): 49 grafts of each, over at least 4 sittings with half of one and half of the other.',
    );
  });

  test('the same seed, the same order; another seed, another', () => {
    const order = (seed: number) => (trialFor(even, ['side-veneer', 'cleft'], { seed }) as TrialResult).trial.order;
    expect(order(7)).toBe(order(7));
    expect(order(7)).not.toBe(order(8));
  });

  test('seasons take whole batches, and at this pace it is not in reach', () => {
    const found = trialFor(even, ['autumn', 'spring']) as TrialResult;
    // Three batches in two years, spread 0.3 / 5 as they did alike: in three years two a side can be made.
    expect(found.trial).toMatchObject({ each: null, sittings: null, order: null, reachable: false, smallest: null });
    expect(found.trial.floor).toBeLessThanOrEqual(found.trial.batchesEach);
    expect(plain(trialSentence(found))).toMatch(
      /^To see that one way is 20 points better \(95 against 75 %\) by season: 5 batches each, and never fewer than 4, however large they are\. At your 1\.5 batches a year that is over 6 years: not in reach\. No difference up to 40 points is in reach\.$/,
    );
  });

  test('ways of no key, of one way, and of several keys', () => {
    expect(trialFor(even, ['waxed', 'dry'])).toEqual({ keys: [] });
    expect(trialFor(even, ['cleft', 'cleft'])).toEqual({ keys: [] });
    const both = `${even}
batch B1 Pinus parviflora / Pinus thunbergii cleft
2027-10-10 graft B1.1..5 by red label red
2027-10-10 graft B1.6..9 by blue label blue`;
    expect(trialFor(both, ['red', 'blue'])).toEqual({ keys: ['hand', 'label'] });
    expect(trialFor(both, ['red', 'blue'], { key: 'hand' })).toMatchObject({ key: 'hand' });
  });
});
