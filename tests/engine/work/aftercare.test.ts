import { describe, expect, test } from 'vitest';
import { overdueIn, workIn, workLines } from '../../support/work.ts';

/* From the free bud on: judging the take, the tie, heading back, suckers, severing, and the late looks. */

const head = (method = 'side-veneer', pair = 'Pinus parviflora / P. thunbergii', more = '') => `
site    Drumlin-Lane  lat 47.90  lon 8.10  tz Europe/Berlin
place   frame   frost-free shade wind-break
place   yard
tree    T3  Pinus thunbergii  in frame
batch   K26  ${pair}  ${method}  film 38mm  ${more.includes('onto') ? more : `in frame ${more}`}
2026-10-09  graft   K26.1..20
2027-03-22  swell   K26
`;
const maple = 'Acer palmatum / A. palmatum';
const of = (what: string, text: string, on: string) =>
  workLines(text, on)
    .filter((line) => line.includes(` ${what} `))
    .map((line) => line.replace(` ${what}`, '').replace('K26.1..20 ', ''));

describe('judging the take', () => {
  const free = `${head()}2027-05-20  free K26\n`;
  test('28 to 60 days after the bud is free, till taken or lost', () => {
    expect(of('take', free, '2027-06-20')).toEqual(['2027-06-17..2027-07-19 due']);
    expect(of('take', `${free}2027-06-20  take K26\n`, '2027-06-21')).toEqual([]);
    expect(overdueIn(free, '2027-09-20')).toEqual([]);
  });
  test('the first free counts, and not for what is no detached scion', () => {
    expect(of('take', `${free}2027-05-28  free K26\n`, '2027-06-20')).toEqual(['2027-06-17..2027-07-19 due']);
    expect(of('take', `${head('approach')}2027-05-20  free K26\n`, '2027-06-20')).toEqual([]);
  });
});

describe('the tie', () => {
  const free = `${head()}2027-05-20  free K26\n`;
  test('from the free bud on, 28 to 42 days after the last word, in growth only', () => {
    expect(of('tie', head(), '2027-04-20')).toEqual([]);
    expect(of('tie', free, '2027-05-21')).toEqual(['2027-06-17..2027-07-01 later']);
    expect(of('tie', `${free}2027-08-10  check K26 green\n`, '2027-08-11')).toEqual(['2027-09-07..2027-09-21 later']);
    expect(of('tie', `${free}2027-08-25  check K26 green\n`, '2027-08-26')).toEqual(['2027-09-22..2027-09-30 later']);
    expect(of('tie', `${free}2027-09-10  check K26 green\n`, '2027-09-11')).toEqual(['2028-04-15..2028-04-29 later']);
  });
  test('what the season passed over waits for the next', () => {
    expect(of('tie', free, '2027-09-30')).toEqual(['2027-06-17..2027-07-01 overdue']);
    expect(of('tie', free, '2027-10-01')).toEqual(['2028-04-15..2028-04-29 later']);
    expect(overdueIn(free, '2027-09-30')).toEqual([]);
  });
  test('found biting: bind again within a week; work of that day or later answers it', () => {
    const biting = `${free}2027-07-01  check K26 biting\n`;
    expect(of('tie', biting, '2027-07-03')).toEqual(['2027-07-01..2027-07-08 due']);
    expect(of('tie', `${biting}2027-07-02  retie K26\n`, '2027-07-03')).toEqual(['2027-07-30..2027-08-13 later']);
    expect(of('tie', `${biting}2027-07-02  untie K26\n`, '2027-07-03')).toEqual([]);
  });
  test('tied again after untying it is bound again', () => {
    expect(of('tie', `${free}2027-06-25  untie K26\n2027-06-27  retie K26\n`, '2027-06-28')).toEqual([
      '2027-07-25..2027-08-08 later',
    ]);
  });
  test('approach grafts from the day they are made; thread grafts are bound only where a tie is noted', () => {
    const approach = head('approach').replace('2026-10-09', '2027-05-10').replace('2027-03-22  swell   K26\n', '');
    expect(of('tie', approach, '2027-05-11')).toEqual(['2027-06-07..2027-06-21 later']);
    expect(of('tie', approach.replace('approach', 'thread'), '2027-05-11')).toEqual([]);
  });
});

describe('untying', () => {
  test('conifers once taken, from the October of the year they grew in', () => {
    expect(of('untie', head(), '2027-10-05')).toEqual([]);
    const taken = `${head()}2027-07-05  take K26\n`;
    expect(of('untie', taken, '2027-10-05')).toEqual(['2027-10-01..2028-09-30 due']);
    expect(of('untie', `${head()}2028-03-05  take K26\n`, '2028-03-05')).toEqual(['2028-03-05..2028-09-30 due']);
    // taken when the window is over
    expect(of('untie', `${head()}2028-11-05  take K26\n`, '2028-11-05')).toEqual(['2028-09-30..2028-09-30 overdue']);
    expect(of('untie', `${taken}2027-10-06  untie K26\n`, '2027-10-07')).toEqual([]);
  });
  test('swelling unseen: the growth running on the grafting day if 60 days of it are left, else the next', () => {
    const unseen = (made: string, take: string) =>
      of(
        'untie',
        `${head().replace('2026-10-09', made).replace('2027-03-22  swell   K26\n', '')}${take}  take K26\n`,
        take,
      );
    expect(unseen('2026-10-09', '2027-06-01')).toEqual(['2027-10-01..2028-09-30 later']);
    expect(unseen('2027-07-01', '2027-10-15')).toEqual(['2027-10-15..2028-09-30 due']);
    expect(unseen('2027-08-20', '2027-12-15')).toEqual(['2028-10-01..2029-09-30 later']);
  });
  test('other trees 42 days after the bud is free, by the end of June', () => {
    const log = `${head('side-veneer', maple)}2027-05-20  free K26\n2027-06-20  take K26\n`;
    expect(of('untie', log, '2027-06-21')).toEqual(['2027-07-01..2028-06-30 later']);
  });
});

describe('heading back', () => {
  const taken = (text = head()) => `${text}2027-07-05  take K26\n`;
  test('a third once taken, by the first 31 March at least 120 days on; the other thirds 56 to 182 days after each', () => {
    expect(of('headback', head(), '2027-07-05')).toEqual([]);
    expect(of('headback', taken(), '2027-07-06')).toEqual(['2027-07-05..2028-03-31 due to 33..50 %']);
    const first = `${taken()}2028-03-01  headback K26 1/3\n`;
    expect(of('headback', first, '2028-03-02')).toEqual(['2028-04-26..2028-08-30 later to 67..83 %']);
    const second = `${first}2028-05-01  headback K26 2/3\n`;
    // a year after the bud is free all may go at once; here no day of it is noted
    expect(of('headback', second, '2028-05-02')).toEqual(['2028-06-26..2028-10-30 later to 100..100 %']);
    expect(of('headback', `${second}2028-07-01  headback K26 100%\n`, '2028-07-02')).toEqual([]);
    expect(workIn(first, '2028-03-02').find(({ what }) => what === 'headback')?.why).toBe(
      'headed back to a third 1 Mar: now to two thirds',
    );
  });
  test('a year after the bud is free: a third at least, up to all', () => {
    const free = `${head()}2027-05-20  free K26\n2027-07-05  take K26\n`;
    expect(of('headback', free, '2028-03-20')).toEqual(['2027-07-05..2028-03-31 due to 33..50 %']);
    expect(of('headback', free, '2028-06-20')).toEqual(['2027-07-05..2028-03-31 overdue to 33..100 %']);
  });
  test('up to the grafting day it prepares the stock and counts for nothing', () => {
    const prepared = head().replace('2026-10-09  graft', '2026-10-09  headback K26 1/3\n2026-10-09  graft');
    expect(of('headback', taken(prepared), '2027-07-06')).toEqual(['2027-07-05..2028-03-31 due to 33..50 %']);
  });
  test('conifers in pots only; other trees on a branch, too, whole or in two, the second as for conifers', () => {
    expect(of('headback', taken(head('side', undefined, 'onto T3')), '2027-07-06')).toEqual([]);
    const log = taken(head('side-veneer', maple, 'onto T3'));
    expect(of('headback', log, '2027-07-06')).toEqual(['2027-07-05..2028-03-31 due to 50..100 %']);
    expect(of('headback', `${log}2028-03-01  headback K26 50%\n`, '2028-03-02')).toEqual([
      '2028-04-26..2028-08-30 later to 100..100 %',
    ]);
  });
  test('buds whole, late in the winter after the take', () => {
    const log = `${head('chip-bud', maple).replace('2026-10-09', '2026-08-18').replace('2027-03-22  swell   K26\n', '')}2026-09-22  take K26\n`;
    expect(of('headback', log, '2026-09-23')).toEqual(['2027-02-01..2027-03-31 later to 100..100 %']);
  });
  test('no stock is left to head back below a cleft', () => {
    expect(of('headback', taken(head('cleft')), '2027-07-06')).toEqual([]);
  });
});

describe('suckers', () => {
  test('two to four weeks after the buds move, then every 28 days till the end of July', () => {
    const log = head('cleft');
    expect(of('suckers', log, '2027-03-23')).toEqual(['2027-04-05..2027-04-19 later']);
    expect(of('suckers', `${log}2027-04-10  check K26 suckers\n`, '2027-04-11')).toEqual([
      '2027-05-08..2027-05-08 later',
    ]);
    expect(of('suckers', `${log}2027-07-02  check K26 suckers\n`, '2027-07-03')).toEqual([
      '2027-07-30..2027-07-30 later',
    ]);
    expect(of('suckers', `${log}2027-07-05  check K26 suckers\n`, '2027-07-06')).toEqual([]);
    // the first waits for the season, and is over with it
    expect(of('suckers', head('cleft').replace('2027-03-22', '2027-01-20'), '2027-01-21')).toEqual([
      '2027-03-01..2027-03-15 later',
    ]);
    expect(of('suckers', log, '2027-07-31')).toEqual(['2027-04-05..2027-04-19 overdue']);
    expect(of('suckers', log, '2027-08-01')).toEqual([]);
  });
  test('not on side grafts, which keep their stock; on them only where somebody rubbed some off', () => {
    expect(of('suckers', head(), '2027-03-23')).toEqual([]);
    expect(of('suckers', `${head()}2027-04-10  check K26 suckers\n`, '2027-04-11')).toEqual([
      '2027-05-08..2027-05-08 later',
    ]);
  });
  test('after the buds were cut back', () => {
    const log = `${head('chip-bud', maple).replace('2027-03-22  swell   K26\n', '')}2027-02-10  take K26\n2027-03-01  headback K26 100%\n`;
    expect(of('suckers', log, '2027-03-05')).toEqual(['2027-03-15..2027-03-29 later']);
  });
});

describe('severing', () => {
  const log = (method: string) =>
    head(method).replace('2026-10-09', '2027-03-21').replace('2027-03-22  swell   K26\n', '');
  test('from October of the first growing year, for a year', () => {
    for (const method of ['approach', 'thread']) {
      expect(of('sever', log(method), '2027-06-01')).toEqual(['2027-10-01..2028-09-30 later']);
      expect(of('sever', `${log(method)}2028-06-01  sever K26 50%\n`, '2028-06-02')).toEqual([
        '2027-10-01..2028-09-30 due',
      ]);
      expect(of('sever', `${log(method)}2028-06-01  sever K26\n`, '2028-06-02')).toEqual([]);
      expect(of('sever', `${log(method)}2028-06-21  take K26\n`, '2028-06-22')).toEqual([]);
    }
    expect(of('sever', head(), '2027-06-01')).toEqual([]);
  });
});

describe('looking again', () => {
  const taken = `${head()}2027-07-05  take K26\n`;
  test('a year after the take, and four years after that look', () => {
    expect(of('again', taken, '2027-07-06')).toEqual(['2028-07-04..2028-08-03 later']);
    // a look before the year is out is not this one
    expect(of('again', `${taken}2028-06-01  check K26\n`, '2028-06-02')).toEqual(['2028-07-04..2028-08-03 later']);
    expect(of('again', `${taken}2028-07-10  check K26\n`, '2028-07-11')).toEqual(['2032-07-10..2032-08-10 later']);
    expect(of('again', `${taken}2028-07-10  take K26\n`, '2028-07-11')).toEqual(['2032-07-10..2032-08-10 later']);
  });
});

describe('what is over', () => {
  const taken = `${head()}2027-07-05  take K26\n`;
  test('the lost and the sold have no work', () => {
    expect(workLines(`${taken}2027-08-01  sell K26 to garden\n`, '2027-08-02')).toEqual([]);
    expect(workLines(`${taken}2027-08-01  fail K26 dried\n`, '2027-08-02')).toEqual([]);
    const part = workLines(`${taken}2027-08-01  sell K26.1..5 to garden\n2027-08-01  fail K26.6 dried\n`, '2027-08-02');
    expect(part.length).toBeGreaterThan(0);
    for (const line of part) expect(line).toMatch(/^K26\.7\.\.20 /);
  });
  test('after three years without a line it is history', () => {
    expect(workLines(taken, '2030-07-05').length).toBeGreaterThan(0);
    expect(workLines(taken, '2030-07-06')).toEqual([]);
    // a line on the place keeps it
    expect(workLines(`${taken}2029-01-01  reading frame min 1C\n`, '2030-07-06').length).toBeGreaterThan(0);
  });
});
