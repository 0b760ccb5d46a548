import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { firstLines, linesOf, overdueIn, workIn, workLines } from '../../support/work.ts';

/*
 * Six histories worked out by hand from the rules of the trade; windows and shares below are the hand's, what stands
 * beside them was held against the same rules. An invented nursery.
 */

const read = (name: string) => readFileSync(new URL(`../logs/${name}.graft`, import.meta.url), 'utf8');

describe('a healthy autumn batch', () => {
  const log = read('healthy-autumn');

  test('made: a look 28 to 42 days after the reading, then watching for the buds', () => {
    expect(workLines(firstLines(log, 8), '2027-02-01')).toEqual([
      'A1.1..20 look 2027-02-13..2027-02-27 later',
      'A1.1..20 watch 2027-03-01..2027-05-15 later',
    ]);
  });

  test('opening: the next step for those that move, judging for those left behind', () => {
    expect(workLines(firstLines(log, 11), '2027-04-14')).toEqual([
      'A1.19,20 watch 2027-03-01..2027-05-15 due',
      'A1.1..18 open 2027-04-15..2027-04-19 soon to 25..30 %',
      'A1.19,20 look 2027-05-03..2027-05-17 later',
      'A1.19,20 judge 2027-05-03..2027-05-31 later',
    ]);
    expect(workLines(firstLines(log, 13), '2027-04-20')).toEqual([
      'A1.1..18 open 2027-04-27..2027-05-01 soon to 35..40 %',
    ]);
  });

  test('taken: tie, head back by a third, untie, look again after a year', () => {
    expect(workLines(log, '2027-07-10')).toEqual([
      'A1.1..18 headback 2027-07-05..2028-03-31 due to 33..50 %',
      'A1.1..18 tie 2027-08-02..2027-08-16 later',
      'A1.1..18 untie 2027-10-01..2028-09-30 later',
      'A1.1..18 again 2028-07-04..2028-08-03 later',
    ]);
    expect(workIn(log, '2027-07-10').find(({ what }) => what === 'headback')?.why).toBe('taken 5 Jul: a third off');
  });

  test('nothing is ever told as late', () => {
    for (let lines = 6; lines <= 19; lines++) {
      const text = firstLines(log, lines);
      const day = text.split('\n').at(-1)?.slice(0, 10) as string;
      expect(overdueIn(text, day)).toEqual([]);
    }
    expect(overdueIn(log, '2029-01-01')).toEqual([]);
  });
});

describe('slips at the bench', () => {
  const log = read('slips-at-the-bench');
  test('looking late is listed, and never a finding; ten lines are one piece of work', () => {
    expect(workLines(log, '2027-04-06')).toEqual([
      'B2.1..10 look 2027-03-22..2027-03-29 overdue',
      'B2.1..10 watch 2027-04-05..2027-05-14 due',
    ]);
    expect(overdueIn(log, '2027-04-06')).toEqual([]);
    const [look] = workIn(log, '2027-04-06');
    expect([look?.waits, look?.count, look?.place]).toEqual([true, 10, 'bench']);
    expect(linesOf(log, '2027-04-06')).toEqual(['B2.1..10 look 14', 'B2.1..10 watch 14']);
  });
});

describe('wraps opened wrongly', () => {
  const log = read('wraps-opened-wrongly');
  test('the share stands where it was, and an impossible line still was a visit', () => {
    expect(workLines(log, '2027-05-03')).toEqual([
      'C3.21..30 open 2027-05-01..2027-05-05 due to 35..40 %',
      'C3.1..10 open 2027-05-02..2027-05-06 due to 20..25 %',
      'C3.11..20 open 2027-05-02..2027-05-06 due to 35..40 %',
    ]);
    expect(overdueIn(log, '2027-05-03')).toEqual([]);
  });
});

describe('frost under a frost-free roof, and out too early', () => {
  const log = read('frost-under-a-roof');
  test('cover is overdue from the day they were moved, and said by another finding', () => {
    expect(workLines(log, '2027-04-20')).toEqual([
      'D4.1..10 watch 2027-03-01..2027-05-15 due',
      'D4.1..10 cover 2027-03-20..2027-03-20 overdue',
      'D4.11..40,55..60 open 2027-04-24..2027-04-28 soon to 15..20 %',
      'D4.1..10 look 2027-05-12..2027-05-26 later',
      'D4.1..10 judge 2027-05-24..2027-06-21 later',
    ]);
    expect(overdueIn(log, '2027-04-20')).toEqual([]);
    const cover = workIn(log, '2027-04-20').find(({ what }) => what === 'cover');
    expect([cover?.waits, cover?.place, cover?.why]).toEqual([
      false,
      'yard',
      'moved 20 Mar: without frost cover since',
    ]);
  });

  test('the morning after a freezing night', () => {
    expect(workLines(firstLines(log, 6), '2027-01-12')).toEqual([
      'D4.1..60 look 2027-01-13..2027-01-13 soon',
      'D4.1..60 watch 2027-03-01..2027-05-15 later',
    ]);
  });
});

describe('maples in summer and buds in the field', () => {
  const log = read('maples-and-buds');
  test('heading back whole or in two, untying, suckers after the buds were cut back', () => {
    expect(workLines(log, '2027-03-05')).toEqual([
      'E5.1..34 headback 2026-10-20..2027-03-31 due to 50..100 %',
      'E5.1..34 untie 2026-10-28..2027-06-30 due',
      'E5.1..34 tie 2027-04-15..2027-04-29 later',
      'E5.1..34 again 2027-10-20..2027-11-19 later',
      'F5.1..46 suckers 2027-03-15..2027-03-29 later',
      'F5.1..46 again 2027-09-22..2027-10-22 later',
    ]);
    expect(workIn(log, '2027-03-05')[0]?.why).toBe('taken 20 Oct 2026: whole or in two');
    expect(overdueIn(log, '2027-03-05')).toEqual([]);
  });
});

describe('mould, dry scions, a missed visit', () => {
  const log = read('mould-and-a-missed-visit');
  test('aired grafts go on, dry ones rest', () => {
    expect(workLines(firstLines(log, 11), '2027-04-16')).toEqual([
      'G6.1..6 look 2027-04-07..2027-04-11 overdue',
      'G6.1..6 open 2027-04-14..2027-04-18 due to 25..30 %',
      'G6.20..24 look 2027-04-16..2027-04-20 due',
      'G6.7..19 open 2027-04-20..2027-04-24 soon to 25..30 %',
    ]);
    expect(overdueIn(firstLines(log, 11), '2027-04-16')).toEqual([]);
  });

  test('a missed visit never doubles a step, and each set is told on its own last line', () => {
    expect(workLines(log, '2027-05-12')).toEqual([
      'G6.1..6 look 2027-04-07..2027-04-11 overdue',
      'G6.1..6 open 2027-04-14..2027-04-18 overdue to 25..30 %',
      'G6.20..24 open 2027-04-24..2027-04-28 overdue to 5..10 %',
      'G6.7..19 open 2027-05-04..2027-05-08 overdue to 35..40 %',
    ]);
    expect(overdueIn(log, '2027-05-12')).toEqual([
      '8 information G6.1..6: a step was due by 18 Apr, 24 days ago; one step only, to 25–30 %.',
      '12 information G6.20..24: a step was due by 28 Apr, 14 days ago; one step only, to 5–10 %.',
      '13 information G6.7..19: a step was due by 8 May, 4 days ago; one step only, to 35–40 %.',
    ]);
  });
});

test('two seasons of a small nursery: nothing is told as late', () => {
  const log = read('two-seasons');
  for (const day of ['2026-12-01', '2027-04-04', '2027-07-15', '2028-03-15', '2028-09-30'])
    expect(overdueIn(log, day)).toEqual([]);
  // what was taken, untied and headed back whole waits for its late look only; the sold for nothing
  expect(workLines(log, '2028-09-30')).toEqual([
    'B26.1..3 again 2028-06-29..2028-07-29 overdue',
    'K26.1..9,12,15..20 again 2028-06-29..2028-07-29 overdue',
    'M27.1,2 again 2029-06-21..2029-07-21 later',
  ]);
});
