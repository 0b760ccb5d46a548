import { describe, expect, test } from 'vitest';
import { type Comparison, comparisonsOf } from '#server/engine/figures/compare.ts';
import type { GroupKey } from '#server/engine/figures/levels.ts';
import { tryNext } from '#server/engine/figures/try-next.ts';
import { comparisonSentence, nextSentence } from '#server/engine/figures/words.ts';
import { batchesLog, recordOf } from '../../support/figures.ts';

const comparisons = (text: string, ...keys: GroupKey[]): Comparison[] => {
  const { pieces, env } = recordOf(text);
  return comparisonsOf(pieces, keys, env);
};
const said = (found: readonly Comparison[]): string[] =>
  found.map((one) => comparisonSentence(one, found.length).replaceAll('\u00A0', ' '));

/** One sitting of two methods: how many of each took. */
const sitting = (
  name: string,
  on: string,
  veneer: readonly [number, number],
  cleft: readonly [number, number],
): string => {
  const [v, c] = [veneer[1], cleft[1]];
  const lines = [`batch ${name} Pinus parviflora 'Kokonoe' / Pinus thunbergii`];
  lines.push(`${on} graft ${name}.1..${v} side-veneer`, `${on} graft ${name}.${v + 1}..${v + c} cleft`);
  lines.push(`2028-08-01 take ${name}.1..${veneer[0]},${v + 1}..${v + cleft[0]}`, `2028-08-02 fail ${name} rest dried`);
  return lines.join('\n');
};

describe('two methods in the same sittings', () => {
  // Taken 8 of 10 and 12 of 15 against 5 of 10 and 9 of 15: statistics-compare-within.csv, fifth row.
  const log = [sitting('K1', '2027-10-01', [8, 10], [5, 10]), sitting('K2', '2027-10-08', [12, 15], [9, 15])].join(
    '\n',
  );

  test('are compared there', () => {
    const [found] = comparisons(log, 'method');
    expect(found).toMatchObject({
      key: 'method',
      a: 'side-veneer',
      b: 'cleft',
      kind: 'within',
      sittings: 2,
      batches: 2,
    });
    expect(found).toMatchObject({ aTaken: 20, aJudged: 25, bTaken: 14, bJudged: 25, word: 'unclear', tied: [] });
    const { difference, low, high, p } = found as Comparison;
    expect([difference, low, high, p].map((x) => x?.toFixed(8))).toEqual(
      ['0.2400000000', '-0.0181614490', '0.4596662232', '0.1320208317'].map((x) => Number(x).toFixed(8)),
    );
  });

  test('said in points, and that it can’t be told yet', () => {
    expect(said(comparisons(log, 'method'))).toEqual([
      'In the 2 sittings that had both, side-veneer took 24 points more than cleft (from 2 fewer to 46 more): can’t tell yet.',
    ]);
  });

  test('better where the interval and p agree', () => {
    const clear = ['K1', 'K2', 'K3', 'K4'].map((name, i) => sitting(name, `2027-10-0${i + 1}`, [18, 20], [6, 19]));
    const [found] = comparisons(clear.join('\n'), 'method');
    expect(found).toMatchObject({ kind: 'within', word: 'worse', a: 'cleft' });
    expect(said([found as Comparison])[0]).toContain('side-veneer did better.');
  });
});

describe('a field trial of two ways that are rare in the record', () => {
  const usual = batchesLog({ name: 'V1', taken: 30, failed: 10 }, { name: 'V2', taken: 28, failed: 12 });
  const trial = (facts: readonly [string, string]) => `${usual}
batch L27 Larix kaempferi / Larix decidua
2027-03-02 graft L27.1..15 ${facts[0]} by jo
2027-03-02 graft L27.16..30 ${facts[1]} by jo
2027-07-01 take L27.1..14,16..23
2027-07-01 fail L27 rest rejected`;

  test('the rarer is set beside the other, the other beside the commonest of all', () => {
    const found = comparisons(trial(['cleft', 'whip']), 'method');
    expect(found.map(({ a, b, kind }) => [a, b, kind])).toEqual([
      ['cleft', 'side-veneer', 'across'],
      ['whip', 'cleft', 'within'],
    ]);
  });

  test('by its labels, too, though most grafts have none', () => {
    const found = comparisons(trial(['label A', 'label B']), 'label');
    expect(found.map(({ a, b, kind }) => [a, b, kind])).toEqual([
      ['A', null, 'across'],
      ['B', 'A', 'within'],
    ]);
    expect(found[1]).toMatchObject({ aTaken: 8, aJudged: 15, bTaken: 14, bJudged: 15 });
  });

  test('labels stand for the one fact that goes with them, and hide nothing of it; for none where two do', () => {
    const clear = trial(['cleft label A', 'whip label B']).replace('16..23', '16,17');
    const found = comparisons(clear, 'label');
    expect(found[1]).toMatchObject({ a: 'B', b: 'A', kind: 'within', word: 'worse' });
    expect(found[1]?.tied).toEqual([{ key: 'method', overlap: 0, word: 'never-apart' }]);
    expect(said(found)[1]).toContain(
      'label A did better. Each label had its own method, so that is what it stands for.',
    );
    expect(tryNext(found)).toEqual([]);
    const two = comparisons(clear.replace('label B by jo', 'label B by mk'), 'label');
    expect(two[1]).toMatchObject({ word: 'unclear' });
    expect(said(two)[1]).toContain('whether it was the label, the method or the hand, this record can’t say.');
  });

  test('what went together elsewhere doesn’t blur what shared a sitting; what does there, does', () => {
    const apart = `${trial(['cleft', 'whip'])}
batch L28 Larix kaempferi / Larix decidua whip
2028-03-02 graft L28.1..40 by mk
2028-07-01 take L28.1..20
2028-07-01 fail L28 rest rejected`;
    const ofTrial = (text: string) => comparisons(text, 'method').find(({ kind }) => kind === 'within');
    expect(ofTrial(apart)?.tied).toEqual([]);
    const byHand = trial(['cleft', 'whip']).replace('whip by jo', 'whip by mk');
    expect(ofTrial(byHand)?.tied).toEqual([{ key: 'hand', overlap: 0, word: 'never-apart' }]);
  });
});

test('a method that has no depth is not said to go with one', () => {
  const log = `batch O27 Picea omorika / Picea abies
2027-10-19 graft O27.1..20 side-veneer cut 40%
2027-10-19 graft O27.21..40 cleft
2028-07-01 take O27.1..17,21..34
2028-07-01 fail O27 rest dried`;
  expect(comparisons(log, 'method')).toMatchObject([{ kind: 'within', tied: [] }]);
});

describe('whole batches', () => {
  const autumn = { on: '2026-10-10' };
  const spring = { on: '2027-04-10', method: 'cleft' };
  const log = batchesLog(
    { name: 'A1', taken: 31, failed: 9, ...autumn },
    { name: 'A2', taken: 40, failed: 10, ...autumn },
    { name: 'A3', taken: 28, failed: 12, ...autumn },
    { name: 'S1', taken: 22, failed: 18, ...spring },
    { name: 'S2', taken: 20, failed: 20, ...spring },
    { name: 'S3', taken: 17, failed: 23, ...spring },
  );

  test('autumn and spring: the figures of the table', () => {
    const [found] = comparisons(log, 'season');
    expect(found).toMatchObject({ key: 'season', a: 'spring', b: 'autumn', kind: 'across', batches: 6, sittings: 0 });
    const { difference, low, high, p, spread } = found as Comparison;
    // statistics-compare-across.csv, third row, with the sides changed.
    expect([-difference, -(high ?? 0), -(low ?? 0), p, spread].map((x) => x?.toFixed(8))).toEqual(
      ['0.2698717949', '0.0300999843', '0.4712911866', '0.0324964521', '0.0428571429'].map((x) => Number(x).toFixed(8)),
    );
  });

  test('every spring graft was cleft: nothing is better, and the method is named', () => {
    const [found] = comparisons(log, 'season');
    expect(found).toMatchObject({ word: 'unclear', tied: [{ key: 'method', overlap: 0, word: 'never-apart' }] });
    expect(said([found as Comparison])).toEqual([
      'Spring took 49 % of 120, autumn 76 % of 130, in 6 batches: spring 27 points fewer (from 47 fewer to 3 fewer). But no method had both spring and autumn: whether it was the season or the method, this record can’t say.',
    ]);
  });

  test('days tell seasons apart by what they are, and are not named', () => {
    expect(comparisons(log, 'season')[0]?.tied.map(({ key }) => key)).toEqual(['method']);
    expect(comparisons(log, 'method')[0]?.tied.map(({ key }) => key)).toEqual(['season', 'day']);
  });

  test('a batch under half judged has no rate to compare', () => {
    const young = batchesLog({ name: 'S4', taken: 0, failed: 5, open: 35, on: '2028-04-01', method: 'cleft' });
    expect(comparisons(`${log}\n${young}`, 'season')[0]).toMatchObject({ aJudged: 120, bJudged: 130, batches: 6 });
  });

  test('one batch a side: both rates, no interval', () => {
    const two = batchesLog({ name: 'A1', taken: 31, failed: 9 }, { name: 'S1', taken: 22, failed: 18, ...spring });
    const [found] = comparisons(two, 'season');
    expect(found).toMatchObject({ kind: 'one-each', low: null, high: null, p: null, pHolm: null, word: 'unclear' });
    expect(said([found as Comparison])[0]).toMatch(/^Spring took 55 % of 40, autumn 78 % of 40: one batch each/);
  });

  test('more than two levels: each against the commonest', () => {
    const found = comparisons(
      `${log}\n${batchesLog({ name: 'W1', taken: 10, failed: 2, on: '2028-01-10' })}`,
      'season',
    );
    expect(found.map(({ a, b }) => [a, b])).toEqual([
      ['spring', 'autumn'],
      ['winter', 'autumn'],
    ]);
  });

  test('p is adjusted for all keys of the run', () => {
    const [season, method] = comparisons(log, 'season', 'method');
    expect(season?.p).toBe(method?.p);
    expect(season?.pHolm).toBeCloseTo(2 * (season?.p ?? 0), 12);
  });
});

test('jo grafted the easy pairs: ahead taken together, behind in each', () => {
  const easy = "Pinus parviflora 'Kokonoe' / Pinus thunbergii";
  const hard = "Abies koreana 'Silberperl' / Abies nordmanniana";
  const log = batchesLog(
    { name: 'E1', taken: 80, failed: 20, pair: easy, facts: 'by jo' },
    { name: 'E2', taken: 9, failed: 1, pair: easy, facts: 'by mk' },
    { name: 'H1', taken: 3, failed: 7, pair: hard, facts: 'by jo' },
    { name: 'H2', taken: 40, failed: 60, pair: hard, facts: 'by mk' },
  );
  const [found] = comparisons(log, 'hand');
  expect(found?.turned.map(({ key, crude, within }) => [key, crude.toFixed(3), within.toFixed(3)])).toEqual([
    ['pair', '-0.309', '0.100'],
  ]);
  expect(found).toMatchObject({ a: 'mk', b: 'jo' });
  expect(said([found as Comparison])[0]).toMatch(
    /^Taken together jo is 31 points ahead; with each pair by itself mk is 10 points ahead: it is the pair that makes jo look better\. mk took 45 % of 110/,
  );
});

test('a set counted over both hands is in neither', () => {
  const log = `batch S27 Abies koreana / Abies nordmanniana side-veneer
2027-10-18 graft S27.1..20 by mk
2027-10-18 graft S27.21..40 by jo
2027-10-18 graft S27.41..52 by jo
2027-10-18 graft S27.53..64 by mk
2028-06-01 fail S27.1..40 x4 rotted
2028-06-01 take S27.41..60
2028-06-01 fail S27.61..64 dried`;
  expect(comparisons(log, 'hand')[0]).toMatchObject({ kind: 'within', aJudged: 12, bJudged: 12 });
});

test('labels: no label is a way, too', () => {
  const log = `batch S27 Abies koreana / Abies nordmanniana side-veneer
2027-10-18 graft S27.1..12
2027-10-18 graft S27.13..24 label red
2028-06-01 take S27.1..9,13..23
2028-06-01 fail S27 rest dried`;
  const found = comparisons(log, 'label');
  expect(found[0]).toMatchObject({ kind: 'within', a: null, b: 'red' });
  expect(said(found)[0]).toMatch(/^In the sitting that had both, no label took 17 points fewer than label red/);
});

describe('what to try next', () => {
  test('ways that never were apart first, then the widest; both could share a sitting', () => {
    const log = batchesLog(
      { name: 'A1', taken: 31, failed: 9, facts: 'by mk' },
      { name: 'A2', taken: 30, failed: 10, facts: 'by mk' },
      { name: 'S1', taken: 22, failed: 18, on: '2027-04-10', method: 'cleft', facts: 'by jo' },
      { name: 'S2', taken: 20, failed: 20, on: '2027-04-11', method: 'cleft', facts: 'by jo' },
    );
    const next = tryNext(comparisons(log, 'season', 'method', 'hand'));
    expect(next.map(({ kind }) => kind)).toEqual(['apart', 'apart']);
    expect(nextSentence(next[0] as (typeof next)[number])).toBe(
      'Graft side-veneer and cleft in one batch on one day: 74 each.',
    );
  });

  test('nobody is sent beyond what practice calls good', () => {
    const log = `batch K27 Pinus parviflora / Pinus thunbergii side-veneer
2027-10-09 graft K27.1..12 cut 40%
2027-10-09 graft K27.13..24 cut 60%
2028-06-01 take K27.1..10,13..20
2028-06-01 fail K27 rest dried`;
    const found = comparisons(log, 'depth');
    expect(found).toMatchObject([{ kind: 'within', word: 'unclear' }]);
    expect(tryNext(found)).toEqual([]);
  });

  test('nothing compared: nothing to try', () => {
    expect(tryNext([])).toEqual([]);
  });
});
