import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { listed } from './support.ts';

/*
 * Six small logs and one of two seasons, worked out by hand from the practice before the program
 * was written: their findings, by line from 1. What is overdue comes with the work and is tested there.
 */
const read = (name: string) => readFileSync(new URL(`../logs/${name}.graft`, import.meta.url), 'utf8');
const upTo = (name: string, line: number) => read(name).split('\n').slice(0, line).join('\n');

test.each([
  ['2027-02-01', 8],
  ['2027-04-14', 11],
  ['2027-04-20', 13],
  ['2027-07-10', 99],
])('a healthy autumn batch on %s, read to line %i: nothing to say', (on, line) => {
  expect(listed(upTo('healthy-autumn', line), { on, all: true })).toEqual([]);
});

test('slips at the bench, and the edges that are not slips', () => {
  expect(listed(read('slips-at-the-bench'), { on: '2027-04-06', all: true })).toEqual([
    '6 warning cut-shallow B2.2',
    '7 warning cut-deep B2.3',
    '8 warning whorls-many B2.4',
    '9 warning side-top B2.5',
    '10 warning faces-level B2.6',
    '11 warning face-short B2.7',
    '12 warning joint-reset B2.8',
  ]);
});

test('wraps opened wrongly', () => {
  expect(listed(read('wraps-opened-wrongly'), { on: '2027-05-03', all: true })).toEqual([
    '5 warning open-early C3.1..10',
    '7 warning open-wide C3.11..20',
    '9 warning open-soon C3.21..30',
    '12 error wrap-shrank C3.11..20',
  ]);
});

test('frost under a frost-free roof, and out too early', () => {
  expect(listed(read('frost-under-a-roof'), { on: '2027-04-20', all: true })).toEqual([
    '6 warning froze D4.1..60',
    '8 warning frost-cover-missing D4.1..10',
    '9 warning froze D4.1..10',
  ]);
});

test('maples in summer and buds in the field: nothing to say', () => {
  expect(listed(read('maples-and-buds'), { on: '2027-03-05', all: true })).toEqual([]);
});

test.each([
  ['2027-04-16', 11],
  ['2027-05-12', 99],
])('mould, dry scions, a missed visit, on %s: the work is late, the practice was good', (on, line) => {
  expect(listed(upTo('mould-and-a-missed-visit', line), { on, all: true })).toEqual([]);
});

test('the season: exactly the lines marked for it', () => {
  const text = read('two-seasons');
  const marked = text.split('\n').flatMap((line, i) => {
    const code = /#! ([a-z-]+)/.exec(line)?.[1];
    return code === undefined ? [] : [`${i + 1} ${code}`];
  });
  expect(marked).toHaveLength(5);
  const found = listed(text, { on: '2028-09-30', all: true }).map((one) => one.split(' '));
  expect(found.map(([line, , code]) => `${line} ${code}`)).toEqual(marked);
});
