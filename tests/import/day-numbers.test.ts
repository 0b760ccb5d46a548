import { describe, expect, test } from 'vitest';
import { isoDay } from '#grammar/values/date.ts';
import { readDayNumber } from '#server/import/day-numbers.ts';
import { askedBy, imported, workOf } from './imported.ts';

/* A column of dates that the spreadsheet saved as its own numbers: 45574 for 9 October 2024. */

test.each([
  // Days and numbers of both systems as the makers of such programs publish them: 39448 and 37986 are 1 January 2008
  // (support page on date systems, from memory).
  ['39448', '2008-01-01', '2012-01-02'],
  ['37986', '2003-12-31', '2008-01-01'],
  ['45574', '2024-10-09', '2028-10-10'],
  ['36526', '2000-01-01', '2004-01-02'],
])('%s is %s from 1900, %s from 1904', (cell, from1900, from1904) => {
  const days = readDayNumber(cell)?.days;
  expect([days?.['1900'], days?.['1904']].map((day) => isoDay(day ?? 0))).toEqual([from1900, from1904]);
});

test.each([
  ['45574.604166667', '14:30'],
  ['45574.0', undefined],
  ['45574.99999', undefined],
])('the part behind the point is the time of day: %s', (cell, time) => {
  expect(readDayNumber(cell)?.time).toBe(time);
});

test.each([['4557'], ['455740'], ['99999'], ['45574,5'], ['-45574'], ['4.5574E4']])('%s is no day number', (cell) => {
  expect(readDayNumber(cell)).toBeUndefined();
});

describe('a column of nothing else is read as days, and the preview says how', () => {
  const sheet = 'Graft,Date grafted,Taken on\nK24.1,45574,45843\nK24.2,45574.604166667,\nK24.3,45575,-\n';
  test('from 1900, where from 1904 a day would be still to come', () => {
    const done = imported(sheet, { on: '2027-11-25' });
    expect(done.left).toEqual([]);
    expect(workOf(done)).toEqual([
      '2024-10-09',
      'graft    K24.1',
      'graft    K24.2  "at 14:30"',
      '2024-10-10',
      'graft    K24.3',
      '2025-07-05',
      'take     K24.1',
    ]);
    expect(done.columns[1]?.as).toBe(
      'the day the grafts were made; day numbers are counted from 1900: 45574 is 2024-10-09; from 1904 it would be 2028-10-10, still to come',
    );
  });
  test('where both ways are past, it is asked which; either answer holds', () => {
    const old = 'Graft,Date\nK20.1,44112\nK20.2,44115\n';
    expect(askedBy(old)).toBe(
      '“44112” (row 2 of “Date”) is a spreadsheet’s own number for a day: 2020-10-08 (--dates 1900: most spreadsheets) or 2024-10-09 (--dates 1904: older ones on a Mac): say which.',
    );
    expect(workOf(imported(old, { numbers: '1900' }))[0]).toBe('2020-10-08');
    const done = imported(old, { numbers: '1904' });
    expect(workOf(done)[0]).toBe('2024-10-09');
    expect(done.columns[1]?.as).toContain('day numbers are counted from 1904: 44112 is 2024-10-09');
  });
  test('one column that tells is enough for all of the sheet', () => {
    const done = imported('Graft,Date,Sold\nK20.1,44112,45843\n', { on: '2027-11-25' });
    expect(workOf(done)).toEqual(['2020-10-08', 'graft    K20.1', '2025-07-05', 'sell     K20.1']);
  });
  test('other columns keep their own order', () => {
    const done = imported('Graft,Date,Sold\nK24.1,45574,05/07/2025\nK24.2,45574,13/07/2025\n');
    expect(workOf(done).filter((line) => /^\d/.test(line))).toEqual(['2024-10-09', '2025-07-05', '2025-07-13']);
  });
});

test('among dates such a number may be anything: its row is left, with what to do', () => {
  const done = imported('Graft,Date\nK24.1,2024-10-09\nK24.2,45574\n');
  expect(done.left.map(({ row, why }) => `${row}: ${why}`)).toEqual([
    '3: “45574” is a spreadsheet’s own number for a day: show the column as dates and save the sheet again',
  ]);
});

test('large counts are counts: where rows are counted, takes are too', () => {
  const done = imported('Batch,Date,Count,Taken\nK24,2024-10-09,40000,36000\n');
  expect(done.counts).toMatchObject({ grafts: 40_000, took: 36_000 });
});
