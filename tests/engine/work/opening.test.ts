import { describe, expect, test } from 'vitest';
import { overdueIn, workIn, workLines } from '../../support/work.ts';

/* The opening of the wrap, step by step. Rhythm and widths: common practice, no source. */

const head = `
site    Drumlin-Lane  lat 47.90  lon 8.10  tz Europe/Berlin
place   frame   frost-free shade wind-break
batch   K26  Pinus parviflora / P. thunbergii  side-veneer  film 38mm  in frame
2026-10-09  graft   K26.1..20  cut 40%
`;
const logOf = (...lines: string[]) => `${head}${lines.join('\n')}\n`;
const opening = (text: string, on: string) => workLines(text, on).filter((line) => / (open|judge|cover) /.test(line));

describe('the first step', () => {
  test('within a week of the swelling, a corner only', () => {
    expect(opening(logOf('2027-03-22  swell K26'), '2027-03-25')).toEqual([
      'K26.1..20 open 2027-03-22..2027-03-29 due to 5..10 %',
    ]);
    expect(overdueIn(logOf('2027-03-22  swell K26'), '2027-03-29')).toEqual([]);
    expect(overdueIn(logOf('2027-03-22  swell K26'), '2027-03-30')).toEqual([
      '5 information K26.1..20: a step was due by 29 Mar, 1 day ago; one step only, to 5–10 %.',
    ]);
  });

  test('nothing before the buds move', () => {
    expect(opening(logOf(), '2027-03-25')).toEqual([]);
  });

  test('opened before it swelled: nothing till it does, then at least ten days on, with the time of a first step', () => {
    expect(opening(logOf('2027-03-02  open K26 5%'), '2027-03-20')).toEqual([]);
    // the later of 24 Mar + 4 and 15 Mar + 7
    expect(opening(logOf('2027-03-14  open K26 5%', '2027-03-15  swell K26'), '2027-03-20')).toEqual([
      'K26.1..20 open 2027-03-24..2027-03-28 soon to 10..15 %',
    ]);
    expect(opening(logOf('2027-03-02  open K26 5%', '2027-03-22  swell K26'), '2027-03-23')).toEqual([
      'K26.1..20 open 2027-03-22..2027-03-29 due to 10..15 %',
    ]);
  });

  test('buds that move before the union is sound stay closed till it is', () => {
    const log = `${head.replaceAll('2026-10-09', '2027-03-01')}2027-03-12  swell K26\n`;
    expect(opening(log, '2027-03-13')).toEqual(['K26.1..20 open 2027-03-22..2027-03-29 later to 5..10 %']);
  });

  test('waxed and tented grafts have no opening, nor do buds and what stands on its own roots', () => {
    const bare = `${head.replace('film 38mm', 'wax hot')}2027-03-22  swell K26\n`;
    expect(opening(bare, '2027-03-25')).toEqual([]);
    for (const method of ['chip-bud', 't-bud', 'approach', 'thread'])
      expect(
        opening(`${head.replace('side-veneer', method)}2027-03-22  swell K26\n`, '2027-03-25').join(),
      ).not.toContain('open');
    // but a line that opened it proves a wrap
    expect(opening(`${bare}2027-03-24  open K26 5%\n`, '2027-03-25')).toEqual([
      'K26.1..20 open 2027-04-03..2027-04-07 later to 10..15 %',
    ]);
    expect(opening(`${bare}2027-03-24  open frame 5%\n`, '2027-03-25')).toEqual([]);
  });
});

describe('the next steps', () => {
  const begun = ['2027-03-22  swell K26', '2027-03-24  open K26 10%'];

  test('ten to fourteen days on, due on the tenth and overdue from the fifteenth', () => {
    const state = (on: string) => opening(logOf(...begun), on).map((line) => line.split(' ')[3]);
    expect([state('2027-04-02'), state('2027-04-03'), state('2027-04-07'), state('2027-04-08')]).toEqual([
      ['soon'],
      ['due'],
      ['due'],
      ['overdue'],
    ]);
  });

  test('a missed visit is still one step, and the next counts from the day it was done', () => {
    expect(opening(logOf(...begun), '2027-05-01')).toEqual([
      'K26.1..20 open 2027-04-03..2027-04-07 overdue to 15..20 %',
    ]);
    expect(opening(logOf(...begun, '2027-05-01  open K26 15%'), '2027-05-02')).toEqual([
      'K26.1..20 open 2027-05-11..2027-05-15 later to 20..25 %',
    ]);
  });

  test('ends when the bud is free; all open, there is no step to make', () => {
    expect(opening(logOf(...begun, '2027-04-05  free K26'), '2027-04-06')).toEqual([]);
    expect(opening(logOf(...begun, '2027-04-05  open K26 100%'), '2027-04-16')).toEqual([]);
    expect(opening(logOf(...begun, '2027-04-05  open K26 97%'), '2027-04-16')).toEqual([
      'K26.1..20 open 2027-04-15..2027-04-19 due to 100..100 %',
    ]);
  });

  test('the nursery’s own rhythm; an end it leaves open keeps the shipped figure', () => {
    const own = ['practice needle open-step ..15%', 'practice needle open-every 7d..', ...begun];
    expect(opening(logOf(...own), '2027-04-01')).toEqual(['K26.1..20 open 2027-03-31..2027-04-07 due to 15..25 %']);
    const slow = ['practice K26 open-step 2..4%', 'practice K26 open-every 20..30d', ...begun];
    expect(opening(logOf(...slow), '2027-04-01')).toEqual(['K26.1..20 open 2027-04-13..2027-04-23 later to 12..14 %']);
  });

  test('a nursery that takes the opening away has none, and one that lets it wait is never told', () => {
    expect(opening(logOf('practice K26 work open after swell wait none', ...begun), '2027-04-20')).toEqual([]);
    const lax = logOf('practice K26 work open after swell wait 0..7d', ...begun);
    expect(opening(lax, '2027-04-20')).toEqual(['K26.1..20 open 2027-04-03..2027-04-07 overdue to 15..20 %']);
    expect(overdueIn(lax, '2027-04-20')).toEqual([]);
    expect(workIn(lax, '2027-04-20').find(({ what }) => what === 'open')?.waits).toBe(true);
  });

  test('a renewed wrap begins at 0, ten days after it or after the last step', () => {
    expect(opening(logOf(...begun, '2027-03-30  rewrap K26'), '2027-04-01')).toEqual([
      'K26.1..20 open 2027-04-09..2027-04-13 later to 5..10 %',
    ]);
  });
});

describe('mould and wet', () => {
  test('a step at once, early or before the buds move', () => {
    expect(workLines(logOf('2027-01-10  check K26.1..5 mould'), '2027-01-11')).toEqual([
      'K26.1..5 open 2027-01-10..2027-01-13 due to 5..10 %',
      'K26.1..5 look 2027-01-13..2027-01-17 soon',
      'K26.6..20 look 2027-02-07..2027-02-21 later',
      'K26.1..20 watch 2027-03-01..2027-05-15 later',
    ]);
  });

  test('never told as overdue, not on days 4 to 7 either', () => {
    for (const day of ['14', '17', '18', '25'])
      expect(overdueIn(logOf('2027-01-10  check K26 mould'), `2027-01-${day}`)).toEqual([]);
  });

  test('any answer of that day or later ends it, a later look too; the look after it ends with a look only', () => {
    const seen = '2027-01-10  check K26 wet';
    const left = (...lines: string[]) =>
      workLines(logOf(seen, ...lines), '2027-01-15')
        .map((line) => line.split(' ')[1])
        .sort();
    expect(left()).toEqual(['look', 'open', 'watch']);
    expect(left('2027-01-10  open K26 5%')).toEqual(['look', 'watch']);
    expect(left('2027-01-11  treat K26 "aired"')).toEqual(['look', 'watch']);
    expect(left('2027-01-11  open frame 10%')).toEqual(['look', 'watch']);
    const looked = workLines(logOf(seen, '2027-01-14  check frame plump'), '2027-01-15');
    expect(looked).toEqual([
      'K26.1..20 look 2027-02-11..2027-02-25 later',
      'K26.1..20 watch 2027-03-01..2027-05-15 later',
    ]);
    expect(workLines(logOf(seen, '2027-01-11  open K26 5%'), '2027-01-15')[0]).toBe(
      'K26.1..20 look 2027-01-13..2027-01-17 due',
    );
  });

  test('an airing before the buds move starts no clock of stalling', () => {
    const log = logOf('2027-01-10  check K26 mould', '2027-01-10  open K26 10%', '2027-04-01  swell K26');
    expect(opening(log, '2027-04-03')).toEqual(['K26.1..20 open 2027-04-01..2027-04-08 due to 15..20 %']);
  });
});

describe('dry', () => {
  const begun = ['2027-03-28  swell K26', '2027-03-30  open K26 10%'];
  const dry = [...begun, '2027-04-13  check K26 dry'];

  test('wrapped again at once, no step meanwhile', () => {
    expect(workLines(logOf(...dry), '2027-04-14')).toEqual([
      'K26.1..20 cover 2027-04-13..2027-04-15 due',
      'K26.1..20 look 2027-04-16..2027-04-20 soon',
    ]);
    expect(overdueIn(logOf(...dry), '2027-04-18')).toEqual([
      '7 information K26.1..20: `rewrap` was due by 15 Apr, 3 days ago; found dry 13 Apr, wrap it again before anything else.',
    ]);
    expect(opening(logOf(...dry, '2027-04-13  rewrap K26'), '2027-04-18')).toEqual([]);
  });

  test('plump or green lets it go on: the latest of ten days after step and wrap, and that day', () => {
    const well = (...lines: string[]) => opening(logOf(...dry, ...lines), '2027-04-25');
    expect(well('2027-04-14  rewrap K26', '2027-04-20  check K26 plump')).toEqual([
      'K26.1..20 open 2027-04-24..2027-04-28 due to 5..10 %',
    ]);
    expect(well('2027-04-21  check K26 green')).toEqual(['K26.1..20 open 2027-04-21..2027-04-25 due to 15..20 %']);
    expect(well('2027-04-25  check K26 dry')).toEqual(['K26.1..20 cover 2027-04-25..2027-04-27 due']);
  });

  test('a later step ends it, too; without a word it is due from the day after the sign stands no more', () => {
    expect(opening(logOf(...dry, '2027-04-15  open K26 20%'), '2027-04-16')).toEqual([
      'K26.1..20 open 2027-04-25..2027-04-29 later to 25..30 %',
    ]);
    expect(opening(logOf(...dry), '2027-04-27')).toEqual(['K26.1..20 cover 2027-04-13..2027-04-15 overdue']);
    expect(opening(logOf(...dry), '2027-04-28')).toEqual(['K26.1..20 open 2027-04-28..2027-05-02 due to 15..20 %']);
    // a nursery that lets the sign stand for a week only
    const week = ['practice any stands 7d after dry', ...dry];
    expect(opening(logOf(...week), '2027-04-21')).toEqual(['K26.1..20 open 2027-04-21..2027-04-25 due to 15..20 %']);
  });

  test('a step of the very day it was found dry is no answer', () => {
    expect(opening(logOf(...begun, '2027-04-13  open K26 20%', '2027-04-13  check K26 dry'), '2027-04-14')).toEqual([
      'K26.1..20 cover 2027-04-13..2027-04-15 due',
    ]);
  });

  test('mould after it is aired before the rest', () => {
    expect(opening(logOf(...dry, '2027-04-15  check K26 mould'), '2027-04-15').at(-1)).toBe(
      'K26.1..20 open 2027-04-15..2027-04-18 due to 15..20 %',
    );
  });
});

describe('stalled', () => {
  const steps = ['03-24', '04-05', '04-17', '04-29', '05-11', '05-23'].map(
    (date, i) => `2027-${date}  open K26 ${(i + 1) * 5}%`,
  );
  const log = (...lines: string[]) => logOf('2027-03-22  swell K26', ...steps, ...lines);

  test('seventy days after the first step no step is due; green or dry is the question', () => {
    // 2 June is day 70: a step from there on isn't offered before either
    expect(opening(log(), '2027-05-24')).toEqual(['K26.1..20 judge 2027-06-02..2027-06-16 later']);
    expect(opening(log(), '2027-06-20')).toEqual(['K26.1..20 judge 2027-06-02..2027-06-16 overdue']);
    expect(overdueIn(log(), '2027-06-20')).toEqual([]);
    // an overdue step, too
    const few = logOf('2027-03-22  swell K26', ...steps.slice(0, 4));
    expect(opening(few, '2027-06-01')).toEqual(['K26.1..20 open 2027-05-09..2027-05-13 overdue to 25..30 %']);
    expect(opening(few, '2027-06-02')).toEqual(['K26.1..20 judge 2027-06-02..2027-06-16 due']);
  });

  test('found green on or after that day it goes on; green before says nothing', () => {
    expect(opening(log('2027-06-01  check K26 green'), '2027-06-10')).toEqual([
      'K26.1..20 judge 2027-06-02..2027-06-16 due',
    ]);
    const green = log('2027-06-05  check K26 green');
    expect(opening(green, '2027-06-10')).toEqual(['K26.1..20 open 2027-06-05..2027-06-19 due to 35..40 %']);
    const on = `${green}2027-06-12  open K26 35%\n`;
    expect(opening(on, '2027-06-13')).toEqual(['K26.1..20 open 2027-06-22..2027-06-26 later to 40..45 %']);
    // seventy days after the first step since
    expect(opening(on, '2027-08-21')).toEqual(['K26.1..20 judge 2027-08-21..2027-09-04 due']);
  });

  test('a renewed wrap starts the clock anew', () => {
    const again = log('2027-05-25  rewrap K26', '2027-06-06  open K26 5%');
    expect(opening(again, '2027-06-10')).toEqual(['K26.1..20 open 2027-06-16..2027-06-20 soon to 10..15 %']);
    expect(opening(again, '2027-08-15')).toEqual(['K26.1..20 judge 2027-08-15..2027-08-29 due']);
  });

  test('a nursery without a limit never stalls', () => {
    const patient = logOf('practice K26 open-over none', '2027-03-22  swell K26', ...steps);
    expect(opening(patient, '2027-06-20')).toEqual(['K26.1..20 open 2027-06-02..2027-06-06 overdue to 35..40 %']);
  });
});
