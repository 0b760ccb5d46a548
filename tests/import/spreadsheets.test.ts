import { describe, expect, test } from 'vitest';
import { formatText } from '#grammar/format.ts';
import { readSheet } from '#server/import/sheet.ts';
import { problemsIn } from '../support/reading.ts';
import { askedBy, imported } from './imported.ts';
import {
  longName,
  messy,
  messyLeft,
  messyLog,
  rowABatch,
  rowABatchLog,
  rowAGraft,
  rowAGraftLeft,
  rowAGraftLog,
} from './sheets.ts';

describe('one row a graft, ISO dates, yes and no', () => {
  const done = imported(rowAGraft);
  test('becomes this log', () => {
    expect(done.log).toBe(rowAGraftLog);
    expect(done.counts).toEqual({ rows: 9, taken: 7, left: 2, grafts: 7, took: 4, lost: 2 });
  });
  test('what does not fit stands in the side file, with the reason', () => expect(done.leftText).toBe(rowAGraftLeft));
  test('what can’t be read as its column’s fact is in the remark, and said', () => {
    expect(done.notes).toContain('“Cut depth (%)”: in the remark, not read as how deep the cut went: “deep” (row 8).');
  });
});

describe('one row a batch, counts, US dates, semicolons', () => {
  const done = imported(rowABatch, { file: 'batches.csv' });
  test('becomes this log', () => {
    expect(done.log).toBe(rowABatchLog);
    expect(done.counts).toEqual({ rows: 5, taken: 4, left: 1, grafts: 1590, took: 334, lost: 29 });
  });
  test('the column says which row decided its dates', () => {
    expect(done.columns[1]).toEqual({
      header: 'Grafted on',
      as: 'the day the grafts were made; dates have the month first, as row 3 shows: 1/18/2027',
    });
  });
  test('the side file ends its lines and parts its cells as the sheet does', () => {
    expect(done.leftText).toBe(
      'Batch;Grafted on;Species;Rootstock;Qty;Taken;Lost;Reason;House;Who;Shelf;why left\r\n26B;2/2/2027;Picea pungens;Picea abies;25;26;;;tent;ana;4;26 taken of 25\r\n',
    );
  });
  test('grafts the sheet doesn’t tell the end of are to judge, and it is said how to end them', () => {
    expect(done.notes.join('\n')).toContain(
      '27 of the counted grafts are neither taken nor lost in the sheet: they are to judge. Where they are gone, add a line such as fail S27 rest.',
    );
  });
});

describe('a messy one', () => {
  test('asks how its dates are read, with both readings of a row', () => {
    expect(askedBy(messy)).toBe(
      '“3/4/2024” (row 4 of “Date”) is 2024-03-04 (--dates us: the month first) or 2024-04-03 (--dates eu: the day first), and no row of the column decides: say which.',
    );
  });
  const done = imported(messy, { file: 'messy.csv', dates: 'us', on: '2025-06-01' });
  test('becomes this log', () => {
    expect(longName).toHaveLength(300);
    expect(done.log).toBe(messyLog);
    expect(done.leftText).toBe(messyLeft);
  });
  test('cells of the side file are those of the sheet to the letter', () => {
    const left = readSheet(done.leftText).rows;
    expect(left[1]?.cells).toEqual([
      '6/4/24',
      'Pinus mugo',
      '"Pinus sylvestris',
      ...['5', 'yes', 'a stray quote', 'raffia', 'mk', ''],
      "its quotation marks don't match, so its cells can't be told apart",
    ]);
  });
  test('what is read as nothing is named', () => {
    expect(done.notes).toContain('“Remarks”: “-” read as blank (row 6).');
    expect(done.notes).toContain('“Taken”: “?” read as not judged yet (row 6).');
  });
  test('mended, the side file comes in as a sheet of its own', () => {
    const mended = done.leftText
      .replace('31/02/2024', '2024-03-31')
      .replace('45574', '2024-10-09')
      .replace('spring', '2024-04-15')
      .replace('"""Pinus sylvestris"', 'Pinus sylvestris');
    const again = imported(mended, { dates: 'us', on: '2025-06-01' });
    expect(again.left).toEqual([]);
    expect(again.counts).toMatchObject({ rows: 4, grafts: 4, took: 4 });
    expect(again.log).not.toContain('quotation marks');
  });
});

test.each([[rowAGraftLog], [rowABatchLog], [messyLog]])(
  'each log is read whole and laid out as `format` does',
  (log) => {
    expect(problemsIn(log)).toEqual([]);
    expect(formatText(log)).toBe(log);
  },
);
