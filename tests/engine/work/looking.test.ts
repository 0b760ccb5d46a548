import { describe, expect, test } from 'vitest';
import { station } from '../../support/station.ts';
import { workIn, workLines } from '../../support/work.ts';

/* Looking, watching for the buds, and judging those left behind. */

const head = (made: string, method = 'side-veneer', place = 'frame', pair = 'Pinus parviflora / P. thunbergii') => `
site    Drumlin-Lane  lat 47.90  lon 8.10  tz Europe/Berlin
place   frame   frost-free shade wind-break
place   tent    heated shade wind-break humid
tree    T3  Pinus thunbergii  in frame
batch   K26  ${pair}  ${method}  film 38mm  in ${place}
${made}  graft   K26.1..20
`;
const of = (what: string, text: string, on: string) =>
  workLines(text, on)
    .filter((line) => line.includes(` ${what} `))
    .map((line) => line.replace(` ${what}`, ''));

describe('looking', () => {
  const log = head('2026-10-09');
  test('a week or two after any word of the first 42 days, then monthly', () => {
    expect(of('look', log, '2026-10-10')).toEqual(['K26.1..20 2026-10-16..2026-10-23 soon']);
    // 20 November is day 42
    expect(of('look', `${log}2026-11-20  check K26 green\n`, '2026-11-21')).toEqual([
      'K26.1..20 2026-11-27..2026-12-04 soon',
    ]);
    expect(of('look', `${log}2026-11-21  check K26 green\n`, '2026-11-22')).toEqual([
      'K26.1..20 2026-12-19..2027-01-02 later',
    ]);
  });

  test('any line on the set, its batch, its tree or its place is a word', () => {
    const day = (line: string) => of('look', `${log}${line}\n`, '2026-12-20')[0]?.split(' ')[1];
    const from28 = '2027-01-12..2027-01-26';
    expect(day('2026-12-15  check K26.3 green')).toBe(from28);
    expect(day('2026-12-15  reading frame min 2C')).toBe(from28);
    expect(day('2026-12-15  water frame')).toBe(from28);
    expect(day('2026-12-15  reading tent min 2C')).toBe('2026-10-16..2026-10-23');
    const onTree = head('2026-10-09').replace('in frame\n2026', 'onto T3\n2026');
    expect(of('look', `${onTree}2026-12-15  water T3\n`, '2026-12-20')).toEqual([`K26.1..20 ${from28} later`]);
    // a line that only speaks of the batch is none
    expect(day('accept cut-missing K26')).toBe('2026-10-16..2026-10-23');
  });

  test('a line on a place is none for what had left it', () => {
    const moved = `${log}2026-11-01  move K26 to tent\n2026-12-15  reading frame min 2C\n`;
    expect(of('look', moved, '2026-12-20')).toEqual(['K26.1..20 2026-11-08..2026-11-15 overdue']);
  });

  test('ends with the swelling', () => {
    expect(of('look', `${log}2027-03-20  swell K26.1..15\n`, '2027-03-21')).toEqual([
      'K26.16..20 2027-04-17..2027-05-01 later',
    ]);
  });

  test('the morning after a freezing night where they stood, till somebody writes a line', () => {
    const cold = `${log}2027-01-12  reading frame min -3.2C\n`;
    expect(of('look', cold, '2027-01-13')).toEqual(['K26.1..20 2027-01-13..2027-01-13 due']);
    expect(of('look', `${cold}2027-01-13  check frame plump\n`, '2027-01-14')).toEqual([
      'K26.1..20 2027-02-10..2027-02-24 later',
    ]);
    // 0.0 °C is no frost
    expect(of('look', `${log}2027-01-12  reading frame min 0C\n`, '2027-01-13')).toEqual([
      'K26.1..20 2027-02-09..2027-02-23 later',
    ]);
    // dormant larches outdoors have no such rule
    const larch = head('2027-01-09', 'cleft', 'yard', 'Larix kaempferi / L. decidua').replace(
      'place   tent',
      'place   yard\nplace   tent',
    );
    expect(of('look', `${larch}2027-01-12  reading yard min -3C\n`, '2027-01-13')).toEqual([
      'K26.1..20 2027-01-19..2027-01-26 soon',
    ]);
  });

  test('a station’s frost counts where nothing keeps it off', () => {
    const day = (iso: string) => Date.parse(iso) / 86_400_000;
    const cold = station({ nights: () => [{ day: day('2026-10-20'), min: -2 }] });
    const look = (text: string) =>
      workIn(text, '2026-10-21', cold)
        .filter(({ what }) => what === 'look')
        .map(({ from, by }) => [from, by]);
    const next = day('2026-10-21');
    expect(look(log.replace('frame   frost-free', 'frame  '))).toEqual([[next, next]]);
    expect(look(log)).toEqual([[day('2026-10-16'), day('2026-10-23')]]);
  });

  test('what stands on its own roots is looked at by its tie', () => {
    for (const method of ['approach', 'thread'])
      expect(of('look', head('2026-10-09', method), '2026-10-20')).toEqual([]);
    expect(of('look', `${head('2026-10-09', 'thread')}2026-10-12  check K26 dry\n`, '2026-10-20')).toEqual([
      'K26.1..20 2026-10-15..2026-10-19 overdue',
    ]);
  });
});

describe('watching for the buds to swell', () => {
  const watch = (made: string, on: string, ...more: Parameters<typeof head> extends [string, ...infer R] ? R : never) =>
    of('watch', head(made, ...more), on);

  test('autumn and winter grafts: in spring; spring and summer ones after three weeks', () => {
    expect(watch('2026-10-09', '2026-12-01')).toEqual(['K26.1..20 2027-03-01..2027-05-15 later']);
    expect(watch('2027-02-20', '2027-02-21')).toEqual(['K26.1..20 2027-03-01..2027-05-15 later']);
    expect(watch('2027-03-20', '2027-03-21')).toEqual(['K26.1..20 2027-04-10..2027-05-19 later']);
    expect(watch('2027-08-10', '2027-08-11')).toEqual(['K26.1..20 2027-08-31..2027-09-30 later']);
  });

  test('slept through the summer: the next spring, and the first watch goes', () => {
    expect(watch('2027-04-20', '2027-09-30')).toEqual(['K26.1..20 2027-05-11..2027-06-19 overdue']);
    expect(watch('2027-04-20', '2027-10-01')).toEqual(['K26.1..20 2028-03-01..2028-05-15 later']);
    expect(watch('2027-04-20', '2028-06-20')).toEqual(['K26.1..20 2028-03-01..2028-05-15 overdue']);
  });

  test('in a heated place by their own clock, whatever the group', () => {
    expect(watch('2026-12-10', '2026-12-11', 'side-veneer', 'tent')).toEqual([
      'K26.1..20 2027-01-14..2027-02-23 later',
    ]);
    expect(watch('2026-12-10', '2026-12-11', 'whip', 'tent', 'Acer palmatum / A. palmatum')).toEqual([
      'K26.1..20 2027-01-14..2027-02-23 later',
    ]);
    expect(watch('2026-12-10', '2026-12-11', 'whip', 'frame', 'Acer palmatum / A. palmatum')).toEqual([]);
    // heated in spring: no `within`, so the window's end is the end of the first watch
    expect(watch('2027-04-20', '2027-07-04', 'side-veneer', 'tent')).toEqual(['K26.1..20 2027-05-25..2027-07-04 due']);
    expect(watch('2027-04-20', '2027-07-05', 'side-veneer', 'tent')).toEqual([
      'K26.1..20 2028-03-01..2028-05-15 later',
    ]);
  });

  test('ends with the swelling, or with what comes after it', () => {
    expect(of('watch', `${head('2026-10-09')}2027-04-01  free K26\n`, '2027-04-02')).toEqual([]);
    expect(of('watch', `${head('2026-10-09')}2027-04-01  take K26\n`, '2027-04-02')).toEqual([]);
  });

  test('not for buds or what stands on its own roots', () => {
    for (const method of ['chip-bud', 't-bud', 'approach', 'thread'])
      expect(watch('2026-10-09', '2027-03-10', method)).toEqual([]);
  });
});

describe('judging', () => {
  test('laggards, 42 to 70 days after the first of the batch swelled; the watch stays beside it', () => {
    const log = `${head('2026-10-09')}2027-03-22  swell K26.1..18\n`;
    expect(workLines(log, '2027-05-05').filter((line) => line.startsWith('K26.19,20'))).toEqual([
      'K26.19,20 watch 2027-03-01..2027-05-15 due',
      'K26.19,20 look 2027-04-19..2027-05-03 overdue',
      'K26.19,20 judge 2027-05-03..2027-05-31 due',
    ]);
    expect(of('judge', `${log}2027-05-10  swell K26.19,20\n`, '2027-05-11')).toEqual([]);
  });

  test('what swelled before others of the batch were made says nothing of them', () => {
    const log = `${head('2026-10-09')}2027-03-22  swell K26\n2027-10-05  graft K26.21..30\n`;
    expect(of('judge', log, '2027-10-06')).toEqual([]);
  });

  test('buds, with their tape in the same weeks', () => {
    const pair = 'Acer platanoides / A. platanoides';
    const buds = head('2026-08-18', 'chip-bud', 'frame', pair);
    const lines = (text: string, on: string) => workLines(text, on).filter((line) => / (judge|untie) /.test(line));
    expect(lines(buds, '2026-09-10')).toEqual([
      'K26.1..20 judge 2026-09-08..2026-09-29 due',
      'K26.1..20 untie 2026-09-08..2026-09-29 due',
    ]);
    expect(lines(head('2026-08-18', 't-bud', 'frame', pair), '2026-09-01')).toEqual([
      'K26.1..20 judge 2026-09-01..2026-09-15 due',
      'K26.1..20 untie 2026-09-01..2026-09-15 due',
    ]);
    expect(lines(`${buds}2026-09-12  take K26\n`, '2026-09-13')).toEqual([
      'K26.1..20 untie 2026-09-08..2026-09-29 due',
    ]);
    expect(lines(`${buds}2026-09-12  take K26\n2026-09-12  untie K26\n`, '2026-09-13')).toEqual([]);
  });
});
