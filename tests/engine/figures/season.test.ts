import { describe, expect, test } from 'vitest';
import { parseIso } from '#grammar/values/date.ts';
import { besideOf } from '#server/engine/figures/beside.ts';
import { type PlanResult, planJson, planOf } from '#server/engine/figures/plan.ts';
import { nextSeason } from '#server/engine/figures/season-ahead.ts';
import { needsSentences, planGrounds, seasonSentence } from '#server/engine/figures/words-ahead.ts';
import { groupSentence } from '#server/engine/figures/words-groups.ts';
import { batchesLog, recordOf } from '../../support/figures.ts';

const plain = (text: string) => text.replaceAll('\u00A0', ' ');
const day = (iso: string) => parseIso(iso) ?? Number.NaN;

// Twenty pines: a frame till spring, then the tunnel; opened twice, then judged.
const log = `place frame frost-free capacity 30
place tunnel frost-free capacity 200
batch K1 Pinus parviflora / Pinus thunbergii side-veneer in frame
2026-10-08 graft K1.1..20
2027-04-01 open K1 20%
2027-04-08 open K1 40%
2027-05-03 move K1 to tunnel
2027-06-10 take K1.1..15
2027-06-10 fail K1.16..20 dried`;

const planned = (text: string, on: string, hours?: number): { found: PlanResult; on: number } => {
  const { histories, env } = recordOf(text, on);
  const ask = { takes: 30, confidence: 0.9, batches: 1, like: 'K1', ...(hours === undefined ? {} : { hours }) };
  return { found: planOf(histories, ask, env) as PlanResult, on: env.day };
};

describe('what a season asks', () => {
  test('the same day of the year, the first time after a day', () => {
    expect(nextSeason(day('2026-10-08'), day('2027-07-01'))).toBe(day('2027-10-08'));
    expect(nextSeason(day('2026-10-08'), day('2027-10-08'))).toBe(day('2028-10-08'));
    expect(nextSeason(day('2024-02-29'), day('2024-03-01'))).toBe(day('2025-02-28'));
  });

  test('work week by week as the last batch of the pair went, for as many as are planned', () => {
    const { found } = planned(log, '2027-07-01', 2);
    const n = found.plan.graft ?? 0;
    const weeks = planJson(found).needs.season?.weeks ?? [];
    // practice.graft: 5 minutes to graft, half a minute to open, a fifth to judge; living and lost were made and opened
    expect(weeks.map(({ from, to, hours }) => [from, to, (hours * 60).toFixed(6)])).toEqual([
      ['2027-10-04', '2027-10-10', (5 * n).toFixed(6)],
      ['2028-03-27', '2028-04-02', (0.5 * n).toFixed(6)],
      ['2028-04-03', '2028-04-09', (0.5 * n).toFixed(6)],
      ['2028-06-05', '2028-06-11', (0.2 * 0.75 * n).toFixed(6)],
    ]);
    expect(weeks.map(({ short }) => short > 0)).toEqual([true, false, false, false]);
  });

  test('held against the hours there are, or not', () => {
    const said = (hours?: number) => {
      const { found, on } = planned(log, '2027-07-01', hours);
      const { season } = found.plan.needs;
      return season ? plain(seasonSentence(season, on)) : '';
    };
    expect(said()).toMatch(
      /^As K1 went: [\d.]+ h in all, most of it 4–10 Oct with [\d.]+ h\. Say how many hours a week you have/,
    );
    expect(said(40)).toContain('No week wants more than the 40 h there are; other batches come on top.');
    expect(said(2)).toMatch(/More than the 2 h there are: 4–10 Oct, [\d.]+ h short\. Other batches come on top\./);
  });

  test('room where they stand one after another, on next season’s days', () => {
    const { found, on } = planned(log, '2027-07-01');
    // as many days after grafting as then; 2028 has a 29 February
    expect(found.plan.needs.places).toEqual([
      { name: 'frame', from: day('2027-10-08'), to: day('2028-05-02'), capacity: 30, standing: 0, free: 30 },
      { name: 'tunnel', from: day('2028-05-02'), to: null, capacity: 200, standing: 15, free: 185 },
    ]);
    const n = found.plan.graft ?? 0;
    expect(needsSentences(found, on).join(' ')).toContain(
      `Room for ${n} in frame, 8 Oct 2027–2 May 2028: it holds 30, and is empty today, so ${n - 30} places are missing unless some move out.`,
    );
  });

  test('nothing of the pair judged: no season to follow, and it is said', () => {
    const { found, on } = planned(log.split('\n').slice(0, 5).join('\n'), '2027-03-01');
    expect(found.plan.needs.missing).toEqual(['film', 'season']);
    expect(needsSentences(found, on)).toEqual(
      expect.arrayContaining([
        'Not told: film, as `long`, `film` and `stock` of such a graft aren’t written.',
        'Not told: work over the season, as no batch of this pair is judged yet.',
      ]),
    );
    expect(planGrounds(found)[0]).toBe('Nothing of Pinus parviflora / Pinus thunbergii is judged so far.');
  });

  test('other pairs that moved the expectation are named', () => {
    const others = batchesLog({ name: 'P1', taken: 4, failed: 36, pair: 'Abies koreana / Abies nordmanniana' });
    const { found } = planned(`${log}\n${others}`, '2027-07-01');
    expect(planGrounds(found)).toContain(
      'Between the two stand other pairs of its kind made in the same season: 4 of 40 took.',
    );
  });
});

describe('a batch beside the others of its pair', () => {
  const record = batchesLog(
    { name: 'K1', taken: 30, failed: 10 },
    { name: 'K2', taken: 20, failed: 20, on: '2027-10-09' },
    { name: 'P1', taken: 4, failed: 36, pair: 'Abies koreana / Abies nordmanniana' },
  );

  test('its own figures, theirs, and all together', () => {
    const { pieces, env } = recordOf(record);
    const found = besideOf('k1', pieces, env);
    expect(found?.own).toMatchObject({ key: { batch: 'K1' }, taken: 30, failed: 10 });
    expect(found?.others.map(({ key, taken }) => [key.batch, taken])).toEqual([['K2', 20]]);
    expect(found?.together).toMatchObject({ taken: 50, failed: 30, batches: 2, basis: 'batches' });
    expect(found?.together && plain(groupSentence(found.together))).toMatch(/^50 of 80 took in 2 batches: 63 %\./);
  });

  test('the only one of its pair, and one that isn’t there', () => {
    const { pieces, env } = recordOf(record);
    expect(besideOf('p1', pieces, env)).toMatchObject({ others: [], together: null });
    expect(besideOf('z9', pieces, env)).toBeUndefined();
  });
});
