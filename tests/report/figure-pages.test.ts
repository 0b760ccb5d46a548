import stringWidth from 'string-width';
import { describe, expect, test } from 'vitest';
import { type GroupKey, groupKeys } from '#server/engine/figures/levels.ts';
import { planJson, planOf } from '#server/engine/figures/plan.ts';
import { statsJson, statsOf } from '#server/engine/figures/stats.ts';
import { trialOf } from '#server/engine/figures/trial.ts';
import { planPage } from '#server/report/plan-page.ts';
import { statsPage } from '#server/report/stats-page.ts';
import { pageText, type TextPage } from '#server/report/text-page.ts';
import { trialPage } from '#server/report/trial-page.ts';
import { expectFigures } from '../support/close.ts';
import { batchesLog, recordOf } from '../support/figures.ts';

/** Fits a terminal, holds no figure that is none, and says nothing of proof. */
function expectPage(page: TextPage): string {
  const text = pageText(page).replaceAll('\u00A0', ' ');
  for (const line of text.split('\n')) {
    // a set of grafts to paste is one line however long
    if (!line.startsWith('graft ')) expect(stringWidth(line), line).toBeLessThanOrEqual(80);
  }
  expect(text).not.toMatch(/NaN|Infinity|undefined|null|\bsignifican|\bodds\b|\bposterior\b|\bp =|no difference/);
  return text;
}

const plain = (text: string) => text.replace(/\s+/g, ' ');

function stats(log: string, by: readonly GroupKey[], compare: readonly GroupKey[] = []) {
  const { histories, env } = recordOf(log);
  const found = statsOf(histories, { by, compare }, env);
  const json = statsJson(found);
  expectFigures(json);
  return { json, text: expectPage(statsPage(found, { by, compare }, env.day)) };
}

describe('records that are hard on figures', () => {
  const huge = batchesLog(
    { name: 'K1', taken: 75_000, failed: 25_000 },
    { name: 'K2', taken: 3, failed: 2, on: '2027-10-10' },
  );
  const cases: readonly (readonly [string, string])[] = [
    ['no batch', 'site Drumlin-Lane lat 47.90 lon 8.10'],
    ['a batch without grafts', 'batch K1 Pinus parviflora / Pinus thunbergii side-veneer'],
    ['nothing judged', batchesLog({ name: 'K1', taken: 0, failed: 0, open: 12 })],
    ['1 of 1', batchesLog({ name: 'K1', taken: 1, failed: 0 })],
    ['0 of 1', batchesLog({ name: 'K1', taken: 0, failed: 1 })],
    [
      'all taken',
      batchesLog({ name: 'K1', taken: 20, failed: 0 }, { name: 'K2', taken: 9, failed: 0, method: 'cleft' }),
    ],
    [
      'none taken',
      batchesLog({ name: 'K1', taken: 0, failed: 20 }, { name: 'K2', taken: 0, failed: 9, method: 'cleft' }),
    ],
    [
      'batches of one graft',
      batchesLog(...Array.from({ length: 6 }, (_, i) => ({ name: `K${i}`, taken: i % 2, failed: 1 - (i % 2) }))),
    ],
    ['a huge one beside a tiny one', huge],
    [
      '0 of 20 beside 20 of 20',
      batchesLog({ name: 'K1', taken: 0, failed: 20 }, { name: 'K2', taken: 20, failed: 0, method: 'cleft' }),
    ],
    [
      'the same on both sides',
      batchesLog({ name: 'K1', taken: 15, failed: 5 }, { name: 'K2', taken: 15, failed: 5, method: 'cleft' }),
    ],
    [
      'a sitting with one way of which nothing is judged',
      `batch K1 Pinus parviflora / Pinus thunbergii
2026-10-10 graft K1.1..12 side-veneer by mk
2026-10-10 graft K1.13..24 cleft by jo
2027-06-10 take K1.1..9
2027-06-10 fail K1.10..12 dried`,
    ],
    [
      'counted and unnamed',
      'batch K1 Pinus mugo / Pinus sylvestris\n2026-10-10 graft K1 x40\n2027-06-10 fail K1 x40 rotted',
    ],
  ];

  test.each(cases)('%s', (_, log) => {
    stats(log, groupKeys, groupKeys);
    for (const key of groupKeys) stats(log, [key], [key]);
    const { histories, env } = recordOf(log);
    for (const ask of [
      { takes: 1, confidence: 0.99 },
      { takes: 500, confidence: 0.9 },
    ]) {
      const plan = planOf(histories, { ...ask, batches: 1 }, env);
      expect(plan?.plan.takes).toBe(ask.takes);
      if (plan) expectPage(planPage(plan, env.day));
      expectFigures(plan && planJson(plan));
    }
    for (const ways of [
      ['cleft', 'side-veneer'],
      ['autumn', 'spring'],
    ] as const) {
      for (const seed of [0, 2 ** 31 - 1]) {
        const found = trialOf(histories, { ways, seed }, env);
        if (!('trial' in found)) throw new Error('no trial');
        expectFigures(found.trial);
        expectPage(trialPage(found, env.day, env));
      }
    }
  });

  test('a huge batch beside a tiny one counts as 13 grafts: 38 to 94 %', () => {
    const { text, json } = stats(huge, ['method']);
    const { effective, low, high } = json.groups[0] as (typeof json.groups)[number];
    expect([effective, 100 * (low ?? 0), 100 * (high ?? 0)].map((x) => x?.toFixed(0))).toEqual(['13', '38', '94']);
    expect(plain(text)).toContain(
      'As batches differ, these 2 tell no more than 13 separate grafts would: the usual rate lies between 38 and 94 %.',
    );
  });

  test('under five judged counts only, and no 100 % of three', () => {
    const { text } = stats(batchesLog({ name: 'K1', taken: 3, failed: 0 }), ['batch']);
    expect(text).toContain('3 of 3 took');
    expect(text.split('\n').find((line) => line.startsWith('K1'))).not.toContain('%');
  });
});
