import { describe, expect, test } from 'vitest';
import { parseIso } from '#grammar/values/date.ts';
import { station } from '../../support/station.ts';
import { overdueIn, workIn, workLines } from '../../support/work.ts';

/* Cover before the cold, shade in the bright months. Frost dates: house defaults; shade: Hibbert-Frey et al. 2010. */

const places = `
site    Drumlin-Lane  lat 47.90  lon 8.10  tz Europe/Berlin
place   frame   frost-free shade wind-break
place   yard
place   lath    shade wind-break
`;
const batch = (
  facts: string,
  made: string,
) => `${places}batch K26  Picea abies / P. abies  side-veneer  film 38mm  ${facts}
${made}  graft  K26.1..20  cut 40%
`;
const of = (what: string, text: string, on: string) => workLines(text, on).filter((line) => line.includes(` ${what} `));

describe('cover of autumn and winter grafts', () => {
  test('the day they are made; another finding says that it is missing', () => {
    const log = batch('in lath', '2026-10-09');
    expect(of('cover', log, '2026-10-09')).toEqual(['K26.1..20 cover 2026-10-09..2026-10-09 due']);
    expect(of('cover', log, '2026-12-01')).toEqual(['K26.1..20 cover 2026-10-09..2026-10-09 overdue']);
    expect(overdueIn(log, '2026-12-01')).toEqual([]);
    expect(of('cover', batch('in frame', '2026-10-09'), '2026-12-01')).toEqual([]);
    expect(of('cover', batch('in lath frost-free', '2026-10-09'), '2026-12-01')).toEqual([]);
    expect(of('cover', `${log}2026-10-12  cover K26 frost-free\n`, '2026-12-01')).toEqual([]);
    expect(of('cover', `${log}2026-10-12  cover lath frost-free\n`, '2026-12-01')).toEqual([]);
    expect(of('cover', `${log}2026-10-12  move K26 to frame\n`, '2026-12-01')).toEqual([]);
  });

  test('where nobody told how they stand nothing is asked', () => {
    expect(of('cover', batch('', '2026-10-09'), '2026-12-01')).toEqual([]);
    expect(of('cover', batch('in shed', '2026-10-09'), '2026-12-01')).toEqual([]);
    expect(of('cover', batch('shade', '2026-10-09'), '2026-12-01')).toEqual([
      'K26.1..20 cover 2026-10-09..2026-10-09 overdue',
    ]);
  });

  test('a move or an uncover begins it anew, due that day; the move is said by another finding, the uncover is not', () => {
    const log = batch('in frame', '2026-10-09');
    const moved = `${log}2026-12-05  move K26.1..5 to yard\n`;
    expect(of('cover', moved, '2026-12-07')).toEqual(['K26.1..5 cover 2026-12-05..2026-12-05 overdue']);
    expect(overdueIn(moved, '2026-12-07')).toEqual([]);
    const bare = `${log}2026-12-05  uncover frame frost-free\n`;
    expect(of('cover', bare, '2026-12-05')).toEqual(['K26.1..20 cover 2026-12-05..2026-12-05 due']);
    expect(overdueIn(bare, '2026-12-07')).toEqual([
      '6 information K26.1..20: `cover` was due by 5 Dec, 2 days ago; uncovered 5 Dec, without frost cover since.',
    ]);
    expect(of('cover', `${bare}2026-12-08  cover frame frost-free\n`, '2026-12-10')).toEqual([]);
  });

  test('off when taken and the last frost is past; untaken, the cold comes again', () => {
    const early = `${batch('in frame', '2026-10-09')}2027-04-20  take K26\n2027-04-25  uncover frame\n`;
    expect(of('cover', early, '2027-05-01')).toEqual(['K26.1..20 cover 2027-04-25..2027-04-25 overdue']);
    expect(of('cover', early, '2027-05-15')).toEqual(['K26.1..20 cover 2027-04-25..2027-04-25 overdue']);
    expect(of('cover', early, '2027-05-16')).toEqual([]);
    expect(of('cover', early, '2027-09-05')).toEqual([]);
    const untaken = `${batch('in frame', '2026-10-09')}2027-06-20  uncover frame\n2027-07-20  check K26 green\n`;
    expect(of('cover', untaken, '2027-07-31')).toEqual([]);
    expect(of('cover', untaken, '2027-08-01')).toEqual(['K26.1..20 cover 2027-09-01..2027-10-01 later']);
    expect(overdueIn(untaken, '2027-10-03')).toEqual([
      '8 information K26.1..20: `cover` was due by 1 Oct, 2 days ago; not taken, cover before the first frost.',
    ]);
  });

  test('uncovered in a later autumn, taken and its last frost long past: nothing is asked', () => {
    const taken = (day: string) => `${batch('in frame', '2026-10-09')}${day}  take K26\n2027-10-13  uncover frame\n`;
    expect(of('cover', taken('2027-07-01'), '2027-11-20')).toEqual([]);
    expect(of('cover', taken('2027-09-10'), '2027-11-20')).toEqual([]);
    expect(of('cover', taken('2027-10-13'), '2027-11-20')).toEqual([]);
    expect(of('cover', taken('2027-10-20'), '2027-11-20')).toEqual(['K26.1..20 cover 2027-10-13..2027-10-13 overdue']);
  });

  test('a station’s dates stand over the calendar’s; one without frost asks for nothing', () => {
    const late = station({ frostDates: () => () => ({ month: 5, day: 24 }) });
    const log = `${batch('in frame', '2026-10-09')}2027-05-20  uncover frame frost-free\n`;
    const cover = (text: string, on: string, weather?: Parameters<typeof workIn>[2]) =>
      workIn(text, on, weather).filter(({ what }) => what === 'cover').length;
    expect([cover(log, '2027-05-21'), cover(log, '2027-05-21', late), cover(log, '2027-05-25', late)]).toEqual([
      0, 1, 0,
    ]);
    // how sure the first frost's day is stands with the work
    const autumn = station({ frostDates: () => () => ({ month: 9, day: 20 }) });
    const untaken = `${batch('in frame', '2026-10-09')}2027-06-20  uncover frame\n2027-07-20  check K26 green\n`;
    expect(
      workIn(untaken, '2027-08-01', autumn)
        .filter(({ what }) => what === 'cover')
        .map(({ why }) => why),
    ).toEqual(['not taken: cover before the first frost, till then a 10\u00A0% risk by the station’s years']);
    const mild = station({ frostFree: () => true });
    expect(cover(batch('in lath', '2026-10-09'), '2026-12-01', mild)).toBe(0);
  });

  test('not for other groups, buds, and what stands on its own roots', () => {
    const log = batch('in yard', '2026-10-09');
    expect(of('cover', log.replace('Picea abies / P. abies', 'Larix kaempferi / L. decidua'), '2026-12-01')).toEqual(
      [],
    );
    expect(of('cover', log.replace('Picea abies / P. abies', 'Acer palmatum / A. palmatum'), '2026-12-01')).toEqual([]);
    for (const method of ['chip-bud', 'approach', 'thread'])
      expect(of('cover', log.replace('side-veneer', method), '2026-12-01')).toEqual([]);
  });
});

describe('cover of spring and summer grafts that have not taken', () => {
  const log = batch('in lath', '2027-06-20');
  test('1 September to the first frost, listed from 1 August', () => {
    expect(of('cover', log, '2027-07-31')).toEqual([]);
    expect(of('cover', log, '2027-08-01')).toEqual(['K26.1..20 cover 2027-09-01..2027-10-01 later']);
    expect(of('cover', log, '2027-09-10')).toEqual(['K26.1..20 cover 2027-09-01..2027-10-01 due']);
    expect(overdueIn(log, '2027-10-02')).toEqual([
      '6 information K26.1..20: `cover` was due by 1 Oct, 1 day ago; not taken, cover before the first frost.',
    ]);
    expect(of('cover', `${log}2027-08-20  take K26\n`, '2027-09-10')).toEqual([]);
    expect(of('cover', `${log}2027-09-20  move K26 to frame\n`, '2027-10-10')).toEqual([]);
  });

  test('grafted in March they are asked for none till then', () => {
    const spring = batch('in lath', '2027-03-20');
    expect(of('cover', spring, '2027-04-10')).toEqual([]);
    expect(of('cover', spring, '2027-09-10')).toEqual(['K26.1..20 cover 2027-09-01..2027-10-01 due']);
  });

  test('uncovered in the cold: that day', () => {
    const bare = `${batch('in frame', '2027-06-20')}2027-11-03  uncover frame\n`;
    expect(of('cover', bare, '2027-11-03')).toEqual(['K26.1..20 cover 2027-11-03..2027-11-03 due']);
    expect(overdueIn(bare, '2027-11-05')).toHaveLength(1);
  });

  test('the cold of the next year asks anew', () => {
    const old = `${log}2028-06-01  check K26 green\n`;
    expect(of('cover', old, '2028-05-10')).toEqual(['K26.1..20 cover 2027-09-01..2027-10-01 overdue']);
    expect(of('cover', old, '2028-06-10')).toEqual([]);
    expect(of('cover', old, '2028-08-10')).toEqual(['K26.1..20 cover 2028-09-01..2028-10-01 later']);
  });
});

describe('shade and shelter from wind', () => {
  test('from the day of grafting till the bud is free, never told as late', () => {
    const log = batch('in yard', '2027-06-20');
    expect(of('shade', log, '2027-06-20')).toEqual(['K26.1..20 shade 2027-06-20..2027-06-20 due']);
    expect(of('shade', log, '2027-07-20')).toEqual(['K26.1..20 shade 2027-06-20..2027-06-20 overdue']);
    expect(overdueIn(log, '2027-07-20')).toEqual([]);
    expect(of('shade', `${log}2027-07-01  cover K26 shade wind-break\n`, '2027-07-20')).toEqual([]);
    expect(of('shade', `${log}2027-07-01  free K26\n`, '2027-07-20')).toEqual([]);
    expect(of('shade', batch('in lath', '2027-06-20'), '2027-07-20')).toEqual([]);
    // the bright half of the year only
    expect(of('shade', log, '2027-09-01')).toEqual([]);
    expect(of('shade', `${log}2027-11-01  check K26\n`, '2028-03-05')).toEqual([
      'K26.1..20 shade 2028-03-01..2028-03-01 overdue',
    ]);
  });

  test('under a roof no wind dries them', () => {
    const house = (flags: string) => batch('in house', '2027-06-20').replace('place   yard', `place   house ${flags}`);
    expect(of('shade', house('shade'), '2027-06-21')).toHaveLength(1);
    expect(workIn(house('shade'), '2027-06-21').find(({ what }) => what === 'shade')?.why).toBe(
      'grafted 20 Jun without wind-break',
    );
    for (const roof of ['heated', 'frost-free', 'mist', 'wind-break'])
      expect(of('shade', house(`shade ${roof}`), '2027-06-21')).toEqual([]);
  });

  test('a leafy maple of summer, not one of winter; autumn conifers not at all', () => {
    const maple = (made: string) =>
      batch('in yard', made).replace('Picea abies / P. abies', 'Acer palmatum / A. palmatum');
    expect(of('shade', maple('2027-07-10'), '2027-07-11')).toHaveLength(1);
    expect(of('shade', maple('2027-02-10'), '2027-05-11')).toEqual([]);
    expect(of('shade', batch('in frame', '2026-10-09'), '2027-05-01')).toEqual([]);
  });
});

test('one piece of work a place, and the place is told', () => {
  const log = `${places}batch K26  Picea abies / P. abies  side-veneer  film 38mm
2026-10-09  graft  K26.1..5  in lath
2026-10-09  graft  K26.6..9  in yard
`;
  const cover = workIn(log, '2026-10-10').filter(({ what }) => what === 'cover');
  expect(cover.map(({ grafts, place, by }) => [grafts, place, by === parseIso('2026-10-09')])).toEqual([
    ['K26.1..5', 'lath', true],
    ['K26.6..9', 'yard', true],
  ]);
});
