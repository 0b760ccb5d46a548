import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type Group, groupsOf } from '#server/engine/figures/groups.ts';
import type { GroupKey } from '#server/engine/figures/levels.ts';
import { groupSentence } from '#server/engine/figures/words-groups.ts';
import { batchesLog, recordOf } from '../../support/figures.ts';

const groups = (text: string, by: readonly GroupKey[], on?: string): Group[] => {
  const { pieces, env } = recordOf(text, on);
  return groupsOf(pieces, by, env);
};
const plain = (text: string) => text.replaceAll('\u00A0', ' ');
const history = (name: string) => readFileSync(new URL(`../logs/${name}.graft`, import.meta.url), 'utf8');

// Three batches of pine whose counts stand in the table of pooled rates (statistics-pooled.csv, first row).
const threeBatches = batchesLog(
  { name: 'K1', taken: 30, failed: 66 },
  { name: 'K2', taken: 346, failed: 6, on: '2027-10-09' },
  { name: 'K3', taken: 420, failed: 183, on: '2028-10-08' },
);

describe('one batch', () => {
  test('worked history: 18 of 20, 0.699 to 0.972', () => {
    const [found] = groups(history('healthy-autumn'), ['batch'], '2027-07-10');
    expect(found).toMatchObject({ key: { batch: 'A1' }, grafted: 20, taken: 18, failed: 2, open: 0, rate: 0.9 });
    expect(found).toMatchObject({ causes: { dried: 2 }, basis: 'batch', batches: 1, effective: null, excluded: 0 });
    expect([found?.low?.toFixed(3), found?.high?.toFixed(3)]).toEqual(['0.699', '0.972']);
  });

  test('nothing judged: no rate, and no word of one', () => {
    const [found] = groups(history('wraps-opened-wrongly'), ['batch'], '2027-05-03');
    expect(found).toMatchObject({ grafted: 30, open: 30, rate: null, low: null, high: null, worst: 0, best: 1 });
    expect(groupSentence(found as Group)).toBe('Not judged yet: 30 grafts.');
  });

  test('a log without grafts has no groups', () => {
    expect(groups('site Drumlin-Lane lat 47.90 lon 8.10', ['batch'])).toEqual([]);
  });
});

describe('several batches', () => {
  test('the interval allows for batches that differ', () => {
    const [found] = groups(threeBatches, ['method']);
    expect(found).toMatchObject({
      key: { method: 'side-veneer' },
      taken: 796,
      failed: 255,
      batches: 3,
      basis: 'batches',
    });
    const { rate, low, high, effective, spread } = found as Group;
    expect([rate, low, high, spread, effective].map((x) => x?.toFixed(8))).toEqual(
      ['0.7573739296', '0.3930679126', '0.9376787987', '0.1854948271', '11.8778509524'].map((x) =>
        Number(x).toFixed(8),
      ),
    );
    expect(plain(groupSentence(found as Group))).toBe(
      '796 of 1051 took in 3 batches: 76 %. The 3 batches differ far more than luck does, so they tell no more than 12 separate grafts would: the usual rate lies between 39 and 94 %.',
    );
  });

  test('one judged alone: how it did, not how the next will', () => {
    const [found] = groups(
      batchesLog({ name: 'K1', taken: 9, failed: 3 }, { name: 'K2', taken: 0, failed: 0, open: 12, on: '2028-10-01' }),
      ['method'],
      '2028-11-01',
    );
    expect(found).toMatchObject({
      basis: 'batch',
      batches: 1,
      unjudged: 1,
      grafted: 24,
      taken: 9,
      failed: 3,
      open: 12,
      spread: null,
    });
    expect(found?.low?.toFixed(4)).toBe('0.4677');
    expect(groupSentence(found as Group)).toContain('That is how one batch did, not how the next will.');
  });

  test('several keys at once, levels nobody wrote last', () => {
    const log = batchesLog(
      { name: 'K1', taken: 3, failed: 1, facts: 'by mk' },
      { name: 'K10', taken: 3, failed: 1, facts: 'by mk' },
      { name: 'K9', taken: 3, failed: 1, on: '2027-04-10', facts: 'by jo' },
      { name: 'K11', taken: 3, failed: 1 },
    );
    expect(groups(log, ['season', 'hand']).map(({ key }) => key)).toEqual([
      { season: 'autumn', hand: 'mk' },
      { season: 'autumn', hand: null },
      { season: 'spring', hand: 'jo' },
    ]);
    expect(groups(log, ['batch']).map(({ key }) => key.batch)).toEqual(['K1', 'K9', 'K10', 'K11']);
  });

  test('early takes: taken in a batch’s own figures, open where batches are pooled', () => {
    const log = `${batchesLog({ name: 'K1', taken: 9, failed: 3 }, { name: 'K2', taken: 8, failed: 2 })}
batch K3 Pinus parviflora 'Kokonoe' / Pinus thunbergii side-veneer
2027-05-01 graft K3.1..20
2027-05-31 take K3.1..20`;
    expect(groups(log, ['batch'])[2]).toMatchObject({ taken: 20, early: 20, open: 0, rate: 1 });
    expect(plain(groupSentence(groups(log, ['batch'])[2] as Group))).toContain(
      'All 20 were called taken too early to count on.',
    );
    expect(groups(log, ['method'])[0]).toMatchObject({ taken: 17, failed: 5, open: 20, early: 20, grafted: 42 });
  });
});

describe('losses that were counted and not named', () => {
  const log = `batch S27 Abies koreana / Abies nordmanniana side-veneer
2027-10-18 graft S27.1..20 by mk
2027-10-18 graft S27.21..40 by jo
2027-10-19 graft S27.41..60 by jo
2028-06-01 fail S27.1..40 x4 rotted
2028-06-01 take S27.41..60`;

  test('count fully in the batch', () => {
    expect(groups(log, ['batch'])[0]).toMatchObject({ failed: 4, taken: 20, excluded: 0, causes: { rotted: 4 } });
  });

  test('leave the whole set out where it can’t be split, and it says so', () => {
    const [jo, mk] = groups(log, ['hand']);
    expect(jo).toMatchObject({ key: { hand: 'jo' }, grafted: 20, taken: 20, failed: 0, excluded: 40 });
    expect(mk).toMatchObject({ key: { hand: 'mk' }, grafted: 0, rate: null, excluded: 40, causes: {} });
  });
});

describe('what a batch comes to', () => {
  // Three finished batches: of 12 each, 2 lost by day 60 and 2 after it, 8 taken on day 200.
  const older = ['A1', 'A2', 'A3']
    .map(
      (name) => `batch ${name} Pinus parviflora / Pinus thunbergii side-veneer
2026-10-01 graft ${name}.1..12
2026-11-30 fail ${name}.11,12 dried
2027-01-10 fail ${name}.9,10 dried
2027-04-19 take ${name}.1..8`,
    )
    .join('\n');
  const young = `batch B1 Pinus mugo / Pinus sylvestris side-veneer
2027-10-01 graft B1.1..40
2027-11-01 fail B1.1..4 dried`;

  test('by what older ones did that were open at the same age', () => {
    // At 70 days 10 of each 12 were open, 8 of them took: (24 + 1) / (30 + 2) of the 36 open ones.
    const found = groups(`${older}\n${young}`, ['batch'], '2027-12-10').find(({ key }) => key.batch === 'B1');
    expect(found?.expected).toBeCloseTo((36 * (25 / 32)) / 40, 12);
    expect(plain(groupSentence(found as Group))).toBe(
      '0 of 40 took so far, 4 lost, 36 to judge. Going by older batches at this age, about 28 of 40 will have taken in the end.',
    );
  });

  test('not by broadleaves, and not by two batches', () => {
    const maple = young.replace('Pinus mugo / Pinus sylvestris', 'Acer palmatum / Acer palmatum');
    const two = older.split('\n').slice(0, 10).join('\n');
    for (const log of [`${older}\n${maple}`, `${two}\n${young}`]) {
      const found = groups(log, ['batch'], '2027-12-10').find(({ key }) => key.batch === 'B1');
      expect(found).toMatchObject({ open: 36, expected: null });
    }
  });
});

describe('classes', () => {
  const log = `batch K1 Pinus parviflora / Pinus thunbergii side-veneer
2026-09-28 collect L1 Pinus parviflora x20
2026-08-20 collect L2 Pinus parviflora x20
2026-10-10 graft K1.1..4 cut 40% lot L1
2026-10-10 graft K1.5..8 cut 60% lot L2
2026-10-10 graft K1.9..12 cut 25..35% lot L1
2026-10-10 graft K1.13..15 cut 5%
2026-10-10 graft K1.16
2027-06-01 take K1`;

  test.each([
    ['depth', { above: 4, below: 3, inside: 8, null: 1 }],
    ['store', { inside: 8, over: 4, null: 4 }],
    ['lot', { L1: 8, L2: 4, null: 4 }],
  ] as const)('%s', (key, wanted) => {
    expect(Object.fromEntries(groups(log, [key]).map((group) => [String(group.key[key]), group.grafted]))).toEqual(
      wanted,
    );
  });
});
