import { expect, test } from 'vitest';
import { comparisonsOf } from '#server/engine/figures/compare.ts';
import type { GroupKey } from '#server/engine/figures/levels.ts';
import { comparisonSentence } from '#server/engine/figures/words.ts';
import { batchesLog, recordOf } from '../../support/figures.ts';

/** Each comparison as it is said, with its word. */
const said = (log: string, ...keys: GroupKey[]): string[] => {
  const { pieces, env } = recordOf(log);
  const found = comparisonsOf(pieces, keys, env);
  return found.map((one) => `${one.word}: ${comparisonSentence(one, found.length)}`.replaceAll('\u00A0', ' '));
};

// 22 of 25 against 14 of 25 in one sitting, red and blue labels among both.
const oneSitting = `batch K1 Pinus parviflora / Pinus thunbergii
2027-10-01 graft K1.1..12 side-veneer label red
2027-10-01 graft K1.13..25 side-veneer label blue
2027-10-01 graft K1.26..38 cleft label red
2027-10-01 graft K1.39..50 cleft label blue
2028-08-01 take K1.1..22,26..32,39..45
2028-08-01 fail K1 rest dried`;

test('asked alone it is told; asked among others it looks so, and luck is named', () => {
  expect(said(oneSitting, 'method')).toEqual([
    expect.stringMatching(
      /^better: In the sitting that had both, side-veneer took 32 points more than cleft .*: side-veneer did better\.$/,
    ),
  ]);
  expect(said(oneSitting, 'method', 'label')).toEqual([
    expect.stringMatching(/^unclear: .*: looks so, but among 2 comparisons luck makes one\.$/),
    expect.stringMatching(/^unclear: .*: can’t tell yet\.$/),
  ]);
});

test('alike is said where the whole interval lies inside ten points', () => {
  const sittings = [1, 2, 3].map(
    (day) => `batch K${day} Pinus parviflora / Pinus thunbergii
2027-10-0${day} graft K${day}.1..300 side-veneer
2027-10-0${day} graft K${day}.301..600 cleft
2028-08-01 take K${day}.1..225,301..525
2028-08-01 fail K${day} rest dried`,
  );
  expect(said(sittings.join('\n'), 'method')).toEqual([
    'alike: In the 3 sittings that had both, side-veneer took as often as cleft (from 4 fewer to 4 more): alike, to within 10 points.',
  ]);
});

test('facts that mostly went together are named, and claim nothing away', () => {
  const log = batchesLog(
    { name: 'A1', taken: 30, failed: 10, facts: 'by mk' },
    { name: 'A2', taken: 30, failed: 10, facts: 'by mk', on: '2026-10-11' },
    { name: 'A3', taken: 3, failed: 1, facts: 'by jo', on: '2026-10-12' },
    { name: 'C1', taken: 14, failed: 6, facts: 'by jo', method: 'cleft', on: '2026-10-13' },
    { name: 'C2', taken: 15, failed: 5, facts: 'by jo', method: 'cleft', on: '2026-10-14' },
  );
  expect(said(log, 'method')[0]).toContain('Few of both had the same hand, which may be part of it.');
});

test('one side followed for two years, the other for half a year: said', () => {
  const log = `${batchesLog(
    { name: 'A1', taken: 30, failed: 10 },
    { name: 'A2', taken: 30, failed: 10, on: '2026-10-11' },
    { name: 'C1', taken: 28, failed: 12, method: 'cleft', on: '2026-10-13' },
    { name: 'C2', taken: 30, failed: 10, method: 'cleft', on: '2026-10-14' },
  )}
2028-10-20 check A1.1..30,A2.1..30 green`;
  expect(said(log, 'method')[0]).toContain(
    'Last looked at when 2 years old against 7 months: late losses can show in the older only.',
  );
});
