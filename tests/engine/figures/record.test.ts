import { describe, expect, test } from 'vitest';
import { rankingOf } from '#server/engine/figures/ranking.ts';
import { type FactSlope, slopesOf } from '#server/engine/figures/slopes.ts';
import { statsJson, statsOf } from '#server/engine/figures/stats.ts';
import { type Survival, survivalOf } from '#server/engine/figures/survival.ts';
import { rankingSentence, slopeSentence, survivalSentence } from '#server/engine/figures/words.ts';
import { expectFigures } from '../../support/close.ts';
import { batchesLog, recordOf } from '../../support/figures.ts';
import { referenceRows } from '../../support/tables.ts';

const plain = (text: string) => text.replaceAll('\u00A0', ' ');

describe('batches and pairs against the usual rate', () => {
  // The ten batches of the table's fourth case.
  const rows = referenceRows('statistics-ranking.csv').filter((row) => row.case === '4');
  const log = batchesLog(
    ...rows.map((row, i) => ({
      name: `K${i + 1}`,
      taken: Number(row.taken),
      failed: Number(row.judged) - Number(row.taken),
      on: `2026-10-${10 + i}`,
    })),
  );

  test('batches, the best to expect first', () => {
    const { pieces, env } = recordOf(log);
    const found = rankingOf(pieces, 'batch', env);
    expect(found?.usual).toBeCloseTo(Number(rows[0]?.usual), 8);
    for (const [i, row] of rows.entries()) {
      const item = found?.items.find(({ name }) => name === `K${i + 1}`);
      expect(item?.estimate).toBeCloseTo(Number(row.estimate), 8);
      expect(item).toMatchObject({ word: row.word, taken: Number(row.taken), judged: Number(row.judged) });
    }
    const estimates = found?.items.map(({ estimate }) => estimate) ?? [];
    expect(estimates).toEqual([...estimates].sort((a, b) => b - a));
    expect(found && plain(rankingSentence(found))).toBe(
      'Better than your usual 74 %: K8 (38 of 40), K5 (61 of 70). Worse: K9 (50 of 80), K4 (9 of 20). The other 6 can’t be told apart.',
    );
  });

  test('pairs count as many separate grafts as their batches are worth', () => {
    const cases = referenceRows('statistics-ranking-pairs.csv').filter((row) => row.case === '1');
    const batches = cases.flatMap((row, pair) =>
      (row.judged ?? '').split(';').map((judged, i) => ({
        name: `P${pair}${'abc'[i]}`,
        taken: Number(row.taken?.split(';')[i]),
        failed: Number(judged) - Number(row.taken?.split(';')[i]),
        pair: `Pinus parviflora 'P${'ABC'[pair]}' / Pinus thunbergii`,
      })),
    );
    const { pieces, env } = recordOf(batchesLog(...batches));
    const found = rankingOf(pieces, 'pair', env);
    cases.forEach((row, pair) => {
      const item = found?.items.find(({ name }) => name.includes(`'P${'ABC'[pair]}'`));
      expect(item?.estimate).toBeCloseTo(Number(row.estimate), 8);
      expect(item?.word).toBe(row.word);
    });
  });

  test('one batch alone, and batches under half judged, have no place', () => {
    const { pieces, env } = recordOf(
      batchesLog({ name: 'K1', taken: 9, failed: 3 }, { name: 'K2', taken: 0, failed: 9, open: 20, on: '2028-10-01' }),
    );
    expect(rankingOf(pieces, 'batch', env)).toBeNull();
  });
});

describe('depth as a number', () => {
  const example = referenceRows('statistics-depth-example.csv');
  const log = ['1', '2', '3']
    .map((b) => {
      const rows = example.filter((row) => row.b === b);
      const of = (y: string) => rows.flatMap((row, i) => (row.y === y ? [i + 1] : [])).join(',');
      return [
        `batch K${b} Pinus parviflora / Pinus thunbergii side-veneer`,
        ...rows.map((row, i) => `2026-10-0${b} graft K${b}.${i + 1} cut ${row.x}%`),
        `2027-06-01 take K${b}.${of('1')}`,
        `2027-06-01 fail K${b}.${of('0')} dried`,
      ].join('\n');
    })
    .join('\n');
  const slopes = (text: string): FactSlope[] => {
    const { pieces, env } = recordOf(text);
    return slopesOf(pieces, ['depth'], env);
  };

  test('the worked example: slope for ten points of depth', () => {
    const [found] = slopes(log);
    const wanted = referenceRows('statistics-firth.csv').find((row) => row.term === 'depth10');
    expect(found).toMatchObject({ fact: 'depth', per: 0.1, n: 36, batches: 3, rarer: 13, word: 'unclear' });
    expect(found?.slope).toBeCloseTo(Number(wanted?.estimate), 6);
    expect(found?.low).toBeCloseTo(Number(wanted?.low), 6);
    expect(found?.high).toBeCloseTo(Number(wanted?.high), 6);
    expect(plain(slopeSentence(found as FactSlope))).toMatch(
      /^Depth: in the same batches, 47 % instead of 26 % went with \d+ points more takes \(from \d+ fewer to \d+ more\): can’t tell yet\.$/,
    );
  });

  test('too few losses; one depth a batch; no depth on record', () => {
    const few = batchesLog({ name: 'K1', taken: 20, failed: 2, facts: 'cut 40%' }).replace(
      'K1.1..22 cut 40%',
      'K1.1..11 cut 40%\n2026-10-10 graft K1.12..22 cut 30%',
    );
    expect(slopes(few)).toMatchObject([{ word: 'too-few', rarer: 2, slope: null, points: null }]);
    expect(plain(slopeSentence(slopes(few)[0] as FactSlope))).toContain(
      'only 2 were lost, or only 2 took: too few to say whether it matters',
    );
    const one = batchesLog(
      { name: 'K1', taken: 20, failed: 12, facts: 'cut 40%' },
      { name: 'K2', taken: 20, failed: 12, facts: 'cut 30%' },
    );
    expect(slopes(one)).toMatchObject([{ word: 'one-value', batches: 2 }]);
    expect(slopeSentence(slopes(one)[0] as FactSlope)).toBe('Depth: each batch had one depth: that compares batches.');
    expect(slopes(batchesLog({ name: 'K1', taken: 20, failed: 2 }))).toEqual([]);
  });
});

describe('losses over time', () => {
  const survival = (text: string, on?: string) => survivalOf(recordOf(text, on).pieces);

  test('seen by day; those alive count to the last line that spoke of them, number 20 to none', () => {
    const found = survival(`batch K1 Pinus parviflora / Pinus thunbergii side-veneer
2026-10-01 graft K1.1..20
2026-10-15 fail K1.1,2 dried
2026-11-12 fail K1.3 rotted
2027-03-01 check K1.4..10 green
2027-06-08 take K1.4..19
2027-08-07 fail K1.4 girdled`);
    expect(found?.points.map(({ day, atRisk, lost, share }) => [day, atRisk, lost, share.toFixed(4)])).toEqual([
      [14, 19, 2, '0.8947'],
      [42, 17, 1, '0.8421'],
      [310, 1, 1, '0.0000'],
    ]);
    expect(found).toMatchObject({ median: 310, halfOfLosses: 14, late: 1 });
    expect(found?.points[0]?.low).toBeGreaterThan(0.5);
    expect(survivalSentence(found as Survival)).toBe(
      'Half of the losses were seen by day 14. By day 310 half of all were lost. 1 graft lost after it was called taken.',
    );
    expect(found?.watched).toEqual(
      [
        [0, 20],
        [30, 17],
        [60, 16],
        [90, 16],
        [180, 16],
        [310, 1],
      ].map(([day, count]) => ({ day, count })),
    );
  });

  test('no band under 20 grafts, nor over two batches', () => {
    const one = survival(batchesLog({ name: 'K1', taken: 17, failed: 2 }));
    const two = survival(batchesLog({ name: 'K1', taken: 17, failed: 9 }, { name: 'K2', taken: 17, failed: 9 }));
    expect([one?.points[0]?.low, two?.points[0]?.low]).toEqual([null, null]);
  });

  test('counted losses are losses, of the set that was made', () => {
    const found = survival(`batch S27 Abies koreana / Abies nordmanniana side-veneer
2027-10-18 graft S27.1..20 by mk
2027-10-18 graft S27.21..40 by jo
2027-11-17 fail S27.1..40 x4 rotted`);
    expect(found?.points.map(({ day, atRisk, lost }) => [day, atRisk, lost])).toEqual([[30, 40, 4]]);
  });

  test('nothing made, nothing lost', () => {
    expect(survival('site Drumlin-Lane lat 47.90 lon 8.10')).toBeNull();
    const alive = survival(batchesLog({ name: 'K1', taken: 9, failed: 0 }));
    expect(alive).toMatchObject({ points: [], median: null, halfOfLosses: null, late: 0 });
    expect(survivalSentence(alive as Survival)).toBe('');
  });
});

describe('all of it as JSON', () => {
  const log = batchesLog(
    { name: 'A1', taken: 31, failed: 9, facts: 'cut 40%' },
    { name: 'S1', taken: 22, failed: 18, on: '2027-04-10', method: 'cleft', facts: 'by jo' },
  );
  const { histories, env } = recordOf(log);
  const json = statsJson(statsOf(histories, { by: ['batch'], compare: ['season', 'depth'] }, env));

  test('has the fields that are agreed, and no others', () => {
    expect(Object.keys(json)).toEqual(['groups', 'comparisons', 'ranking', 'slopes', 'survival']);
    expect(Object.keys(json.groups[0] ?? {}).join(' ')).toBe(
      'key grafted taken failed open rate low high causes early late excluded worst best outer expected batches effective spread basis',
    );
    expect(Object.keys(json.comparisons[0] ?? {}).join(' ')).toBe(
      'key a b kind aTaken aJudged bTaken bJudged difference low high p pHolm word sittings batches effective spread tied turned',
    );
    expect(Object.keys(json.ranking ?? {}).join(' ')).toBe('usual spread items');
    expect(Object.keys(json.ranking?.items[0] ?? {}).join(' ')).toBe('name taken judged estimate word');
    expect(
      Object.keys(json.slopes[0] ?? {})
        .sort()
        .join(' '),
    ).toBe('batches fact high highAt low lowAt n p per points pointsHigh pointsLow rarer slope word');
    expect(Object.keys(json.survival ?? {}).join(' ')).toBe('points median halfOfLosses late');
    expect(Object.keys(json.survival?.points[0] ?? {}).join(' ')).toBe('day atRisk lost share low high');
  });

  test('has no NaN and nothing infinite, and reads back the same', () => {
    expectFigures(json);
    expect(JSON.parse(JSON.stringify(json))).toEqual(json);
  });

  test('an empty log', () => {
    const empty = recordOf('');
    expect(statsJson(statsOf(empty.histories, { by: ['batch'], compare: ['method'] }, empty.env))).toEqual({
      groups: [],
      comparisons: [],
      ranking: null,
      slopes: [],
      survival: null,
    });
  });
});
