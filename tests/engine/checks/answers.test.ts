import { describe, expect, test } from 'vitest';
import { listed, nursery } from './support.ts';

/* What counts as an answer, as a word, and as long. Days: house defaults. */

const batch = (lines: string, plants = 'Pinus parviflora / Pinus thunbergii') => `${nursery}
batch  A26  ${plants}  side-veneer  film  in frame
2026-10-10  graft  A26.1..20
${lines}`;

describe('mould', () => {
  const mould = (...lines: readonly string[]) =>
    listed(batch(['2027-03-20  swell  A26', '2027-06-01  check  A26.1..8  mould', ...lines].join('\n')), {
      on: '2027-06-20',
      only: ['mould-left'],
    });

  test.each([
    ['nothing since', [], ['8 information mould-left A26.1..8']],
    ['part of the set answered', ['2027-06-05  open  A26.1..3  10%'], ['8 information mould-left A26.4..8']],
    ['the rest sold or lost', ['2027-06-05  sell  A26.1..4', '2027-06-05  fail  A26.5..8  rotted'], []],
    ['looked at again, the place will do', ['2027-06-09  check  frame  green'], []],
    ['treated', ['2027-06-09  treat  frame  "as the label says"'], []],
    ['answered the same day', ['2027-06-01  open  A26.1..8  10%'], []],
    [
      'seen again: the later line waits',
      ['2027-06-10  check  A26.1  mould'],
      ['8 information mould-left A26.2..8', '9 information mould-left A26.1'],
    ],
    ['watered only', ['2027-06-09  water  frame'], ['8 information mould-left A26.1..8']],
    ['counted, not named: nobody knows which', ['2027-06-02  free  A26.1..8', '2027-06-03  check  A26 x3  wet'], []],
  ])('%s', (_, lines, expected) => {
    expect(mould(...lines)).toEqual(expected);
  });
});

test('opened the day it was found dry: cover first', () => {
  const text = batch(`2027-03-20  swell  A26
2027-03-22  open   A26  10%
2027-04-13  open   A26.1..5  20%
2027-04-13  check  A26.1,2  dry
2027-04-14  rewrap A26.1
2027-04-24  open   A26.1  10%
2027-04-25  open   A26.2  30%
2027-05-05  open   A26.2  40%`);
  // the second is within 14 days of the check and nothing said plump since; the third is not
  expect(listed(text, { on: '2027-05-10', only: ['dry-opened'] })).toEqual([
    '9 warning dry-opened A26.1,2',
    '13 warning dry-opened A26.2',
  ]);
});

describe('no word', () => {
  const only = ['silent'] as const;

  test('autumn grafts without a window for swelling sleep as long as those that have one', () => {
    const maples = batch('', 'Acer palmatum / Acer palmatum');
    expect(listed(maples, { on: '2027-05-15', only })).toEqual([]);
    expect(listed(maples, { on: '2027-05-16', only })).toEqual(['6 information silent A26.1..20']);
  });

  test('grafts under glass sleep till their first window is past', () => {
    const text = `${nursery}
place  tent  heated shade wind-break
batch  B27  Pinus parviflora / Pinus thunbergii  side-veneer  film  in tent
2027-04-01  graft  B27.1
`;
    // 75 days: 15 June, and 60 days without a word are over by then
    expect(listed(text, { on: '2027-06-15', only })).toEqual([]);
    expect(listed(text, { on: '2027-06-16', only })).toEqual(['7 information silent B27.1']);
  });

  test('after the take a year of days outside winter; after untying none', () => {
    const text = batch(`2027-03-20  swell  A26
2027-05-20  free   A26
2027-06-30  take   A26
2027-06-30  untie  A26.1..5`);
    // 123 days to 31 October, and 242 from 1 March to 28 October: 365 are not yet long
    expect(listed(text, { on: '2028-10-28', only })).toEqual([]);
    expect(listed(text, { on: '2028-10-29', only })).toEqual(['10 information silent A26.6..20']);
    expect(listed(text.replace('A26.1..5', 'A26'), { on: '2029-03-01', only })).toEqual([]);
  });

  test('lines on the tree name the set, lines on the place only count as a word', () => {
    const text = `${nursery}
batch  C26  Pinus parviflora / Pinus thunbergii  side  film
2026-10-10  graft  C26.1  onto T5  out 2cm
2027-03-20  swell  C26
2027-04-01  water  T5
2027-04-20  water  frame
`;
    expect(listed(text, { on: '2027-06-19', only })).toEqual([]);
    expect(listed(text, { on: '2027-06-20', only })).toEqual(['8 information silent C26.1']);
  });
});
