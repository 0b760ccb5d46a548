import stringWidth from 'string-width';
import { describe, expect, test } from 'vitest';
import { expectFigures } from '../support/close.ts';
import { batchesLog } from '../support/figures.ts';
import { terminal } from '../support/terminal.ts';

const { put, run } = terminal();
const on = ['--on', '2029-12-31'];

/** Text and JSON of a command on a log: fits a terminal, holds no figure that is none, and says nothing of proof. */
function asked(log: string, ...args: string[]): { text: string; json: ReturnType<typeof JSON.parse> } {
  put('log.graft', log);
  const text = run([...args, ...on]);
  const json = run([...args, ...on, '--format', 'json']);
  expect({ status: text.status, err: text.err }).toEqual({ status: 0, err: '' });
  for (const line of text.out.split('\n')) {
    // a set of grafts to paste is one line however long
    if (!line.startsWith('graft ')) expect(stringWidth(line), line).toBeLessThanOrEqual(80);
  }
  expect(text.out).not.toMatch(/NaN|Infinity|undefined|null|\bsignifican|\bodds\b|\bposterior\b|\bp =|no difference/);
  const found = JSON.parse(json.out);
  expectFigures(found);
  return { text: text.out, json: found };
}

const plain = (text: string) => text.replace(/\s+/g, ' ');

describe('stats --compare', () => {
  const log = batchesLog(
    { name: 'A1', taken: 31, failed: 9, facts: 'by mk' },
    { name: 'A2', taken: 40, failed: 10, facts: 'by mk' },
    { name: 'S1', taken: 22, failed: 18, on: '2027-04-10', method: 'cleft', facts: 'by jo' },
    { name: 'S2', taken: 20, failed: 20, on: '2027-04-20', method: 'cleft', facts: 'by jo' },
  );

  test('tied facts are named, nothing is claimed, and there is something to try', () => {
    const { text, json } = asked(log, 'stats', '--compare', 'season,method');
    expect(plain(text)).toContain(
      'can’t tell yet. But no method or hand had both spring and autumn: whether it was the season, the method or the hand, this record can’t say.',
    );
    expect(text).toContain(
      'What to try next\n----------------\n  - Graft cleft and side-veneer in one batch on one day:',
    );
    expect(json.comparisons.map((one: { key: string; word: string }) => `${one.key} ${one.word}`)).toEqual([
      'season unclear',
      'method unclear',
    ]);
  });

  test('asked for more keys, each is held to more', () => {
    const one = asked(log, 'stats', '--compare', 'season').json.comparisons[0];
    const all = asked(log, 'stats', '--compare', 'season,method,hand').json.comparisons;
    expect(one.pHolm).toBe(one.p);
    expect(all[0].p).toBe(one.p);
    expect(all[0].pHolm).toBeCloseTo(Math.min(1, 3 * one.p), 12);
  });
});

describe('plan', () => {
  const log = `place frame frost-free capacity 90
${batchesLog(
  { name: 'K1', taken: 18, failed: 2, on: '2023-10-10' },
  { name: 'K2', taken: 30, failed: 10, on: '2024-10-10' },
  { name: 'K3', taken: 9, failed: 1, on: '2025-10-10' },
  { name: 'K4', taken: 44, failed: 16, on: '2026-10-10', facts: 'in frame' },
)}`;

  test('the number, what it rests on and what it needs', () => {
    const { text, json } = asked(log, 'plan', '--takes', '50', '--like', 'K4', '--hours', '3');
    expect(json).toMatchObject({
      takes: 50,
      confidence: 0.9,
      graft: 82,
      batches: 1,
      because: { judged: 130, naive: 65 },
    });
    expect(Object.keys(json)).toEqual([
      'takes',
      'confidence',
      'graft',
      'chance',
      'expected',
      'batches',
      'because',
      'needs',
    ]);
    expect(plain(text)).toContain(
      'For 50 takes, 9 times in 10: graft 82. (50 / 0.78 = 65 would reach it about half the time.) Spread over 3 batches on different days, 77 are enough.',
    );
    expect(plain(text)).toContain(
      '/ Pinus thunbergii: 101 of 130 took in 4 batches (73 to 90 % from batch to batch); as batches differ, they tell no more than 40 separate grafts would.',
    );
    expect(plain(text)).toContain(
      'Room for 82 in frame, from 10 Oct 2030: it holds 90, and 44 stand there today, so 36 places are missing unless some move out.',
    );
    expect(plain(text)).toContain('As K4 went: 7 h in all');
    expect(plain(text)).toContain('Not told: film, as `long`, `film` and `stock` of such a graft aren’t written.');
    // 82 grafts at five minutes in the week of 10 October, three hours there are
    const [bench] = json.needs.season.weeks;
    expect(bench).toMatchObject({ from: '2030-10-07', to: '2030-10-13' });
    expect([bench.hours, bench.short].map((hours) => hours.toFixed(6))).toEqual(['6.833333', '3.833333']);
  });

  test.each([
    [['--takes', '0'], '--takes asks for a whole number, 1 to 10000: --takes 50.'],
    [[], '--takes asks for a whole number'],
    [['--takes', '50', '--confidence', '2'], '--confidence says how sure you want to be'],
    [['--takes', '50', '--confidence', '100%'], '--confidence says how sure you want to be'],
    [['--takes', '50', '--batches', 'many'], '--batches asks for a whole number'],
    [['--takes', '50', '--like', 'Z9'], 'Nothing grafted so far is called Z9'],
  ])('%j exits 2 with a sentence', (args, sentence) => {
    put('log.graft', log);
    const { status, out, err } = run(['plan', ...args, ...on]);
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(err).toContain(sentence);
  });

  test('sure in percent or as a share', () => {
    const sure = (confidence: string) => asked(log, 'plan', '--takes', '50', '--confidence', confidence).json;
    expect(sure('95%')).toEqual(sure('0.95'));
    expect(sure('95')).toEqual(sure('0.95'));
  });
});

describe('trial', () => {
  const log = batchesLog(
    { name: 'A1', taken: 30, failed: 10, on: '2025-10-10', facts: 'by mk label mk' },
    { name: 'A2', taken: 30, failed: 10, on: '2026-10-10', facts: 'by jo label jo' },
    { name: 'A3', taken: 30, failed: 10, on: '2027-10-10' },
  );

  test('how many, the bench order, and lines that the log takes', () => {
    const { text, json } = asked(log, 'trial', '--ways', 'side-veneer,cleft');
    expect(Object.keys(json)).toEqual(
      'ways rate points each sittings batchesEach floor reachable smallest seed order'.split(' '),
    );
    expect(json).toMatchObject({ rate: 0.75, each: 49, sittings: 4, reachable: true, seed: 202912 });
    expect(plain(text)).toContain(
      '49 grafts of each, over at least 4 sittings with half of one and half of the other.',
    );
    expect(plain(text)).toContain('When all are judged, `graftlog stats --compare method` tells.');
    const lines = text.slice(text.indexOf('batch    T29')).trim().split('\n');
    const pasted = lines.map((line, i) =>
      line.startsWith('#')
        ? `2029-10-${10 + i}`
        : line.replace('T29  #', 'T29  Pinus parviflora / Pinus thunbergii  #'),
    );
    put('log.graft', `${log}\n${pasted.join('\n')}\n`);
    expect(run(['check', ...on]).out).not.toContain('error');
    const { groups } = JSON.parse(run(['stats', '--by', 'batch,method,label', ...on, '--format', 'json']).out);
    const trial = groups.filter(({ key }: { key: { batch: string } }) => key.batch === 'T29');
    expect(trial.map(({ key, grafted }: { key: object; grafted: number }) => [key, grafted])).toEqual([
      [{ batch: 'T29', method: 'cleft', label: 'B' }, 49],
      [{ batch: 'T29', method: 'side-veneer', label: 'A' }, 49],
    ]);
  });

  test('seasons take whole batches, and out of reach is said to be so', () => {
    const { text, json } = asked(log, 'trial', '--ways', 'autumn,spring');
    expect(json).toMatchObject({ each: null, sittings: null, order: null, reachable: false });
    expect(plain(text)).toMatch(/At your 1\.5 batches a year that is over \d+ years: not in reach\./);
  });

  test('out of reach in sittings, too: no order is laid out for what can’t be made', () => {
    const { text, json } = asked(
      batchesLog({ name: 'K1', taken: 8, failed: 4 }),
      'trial',
      '--ways',
      'side-veneer,cleft',
    );
    expect(json).toMatchObject({ reachable: false, smallest: null });
    expect(plain(text)).toContain('At your 12 grafts a year that is over 3 years: not in reach.');
    expect(text).not.toContain('Order at the bench');
  });

  test.each([
    [['--ways', 'cleft'], '--ways takes the two ways to try'],
    [['--ways', 'cleft,cleft'], 'two different ways; both are cleft.'],
    [['--ways', 'cleft,spring'], 'cleft and spring aren’t two values of one key (batch, pair'],
    [['--ways', 'mk,jo'], 'values of several keys, hand and label: say which is meant, --ways hand:mk,jo.'],
    [['--ways', 'cleft,side-veneer', '--points', '0'], '--points asks for a whole number, 1 to 40'],
    [['--ways', 'cleft,side-veneer', '--seed', 'x'], '--seed asks for a whole number'],
  ])('%j exits 2 with a sentence', (args, sentence) => {
    put('log.graft', log);
    const { status, out, err } = run(['trial', ...args, ...on]);
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(err).toContain(sentence);
  });

  test('two ways of several keys, with the key before them', () => {
    expect(asked(log, 'trial', '--ways', 'hand:mk,jo').text).toContain('A field trial: mk or jo');
  });
});
