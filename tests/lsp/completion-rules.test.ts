import { expect, test } from 'vitest';
import { labels, offered } from '../support/offers.ts';

/* Offers on lines that say how it is to be done: practice, acceptances, pairs. */

test('a blank asks for whom a rule is, and which plants a pair is of', () => {
  expect(labels('practice  |', ' ')[0]).toBe('any');
  expect(labels('pair  |', ' ')).toContain('Pinus mugo / Pinus sylvestris');
  for (const line of ['practice  any  |', 'pair  Pinus mugo / Pinus sylvestris  |', 'weather  |', 'batch  |'])
    expect(labels(line, ' '), line).toEqual([]);
});

test('a rule: figures as the nursery or the shipped practice has them for the same grafts, then for others', () => {
  expect(labels('practice  side-veneer  whorls |', ' ')[0]).toBe('1..2');
  const own = 'practice  cleft  long 30..40mm  source "own"\n';
  expect(labels('practice  cleft  long |', ' ', own)[0]).toBe('30..40mm');
  const { items } = offered('practice  needle  |');
  expect(items.find(({ label }) => label === 'scion')?.textEdit?.newText).toContain(':50mm..}');
  expect(labels('practice  any  work look  |').slice(0, 2)).toEqual(['after', 'wait']);
  expect(labels('practice  any  |')[0]).not.toBe('any');
});

test('whom a rule or an acceptance is for: batches, and of acceptances places and trees', () => {
  expect(labels('accept  cut-shallow  K|')).toEqual(['K26']);
  expect(labels('accept  frost-cover-missing  ten|')).toEqual(['tent']);
  expect(labels('practice  K|')).toEqual(['K26']);
  expect(labels('practice  ten|')).toEqual([]);
});

test('behind the stroke of a pair: what was grafted on, each by itself', () => {
  expect(labels('batch  H27  Pinus mugo / |', ' ')).toEqual(['Pinus sylvestris', 'Pinus thunbergii']);
  expect(labels('pair  Pinus mugo / P|')).toEqual(['Pinus sylvestris', 'Pinus thunbergii']);
});

test('a rule holds one thing, and is for one group and one method', () => {
  const rule = labels('practice  needle  side  cut 30..50%  |');
  for (const more of ['work', 'scale', 'cleft', 'cut']) expect(rule).not.toContain(more);
  expect(rule).toEqual(expect.arrayContaining(['source', 'detached', 'potted']));
});
