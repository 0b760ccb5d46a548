import { describe, expect, test } from 'vitest';
import { problemsIn } from '../support/reading.ts';
import { askedBy, imported, workOf } from './imported.ts';

/** One row under its headers: what the log has, or why the row is left. */
function row(headers: string, cells: string): string[] {
  const done = imported(`sep=;\n${headers}\n${cells}\n`, { dates: 'us' });
  return done.left.length > 0 ? done.left.map(({ why }) => why) : workOf(done);
}

describe('what became of a row’s grafts', () => {
  const counted = (headers: string, cells: string) =>
    row(`Batch;Date;Count;${headers}`, `K24;2024-10-09;40;${cells}`).slice(2);
  test('counts of taken and lost', () => {
    expect(counted('Taken;Lost;Judged', '31;9;2025-07-05')).toEqual([
      '2025-07-05',
      'take     K24 x31',
      'fail     K24 x9',
    ]);
  });
  test('taken of how many, in one cell', () => {
    expect(counted('Taken;Judged', '31/40;2025-07-05')).toEqual(['2025-07-05', 'take     K24 x31']);
    expect(counted('Taken;Judged', '31 of 41;2025-07-05')).toEqual([]);
  });
  test('yes and no speak of all', () => {
    expect(counted('Taken;Judged', 'yes;2025-07-05')).toEqual(['2025-07-05', 'take     K24']);
    expect(counted('Taken;Judged', 'no;2025-07-05')).toEqual(['2025-07-05', 'fail     K24']);
  });
  test('a share, where only one count can be meant', () => {
    expect(counted('Take %;Judged', '78%;2025-07-05')).toEqual(['2025-07-05', 'take     K24 x31']);
    expect(row('Batch;Date;Count;Take %', 'K24;2024-10-09;400;78%')).toEqual([
      '2024-10-09',
      'graft    K24 x400  "Take %: 78%"',
    ]);
  });
  test('causes with their counts, and one cause for all lost', () => {
    expect(counted('Lost;Cause;Judged', '9;7 dried, 2 botrytis;2025-07-05')).toEqual([
      '2025-07-05',
      'fail     K24 x7  dried',
      'fail     K24 x2  rotted  "botrytis"',
    ]);
    expect(counted('Lost;Cause;Judged', '9;slugs;2025-07-05')).toEqual([
      '2025-07-05',
      'fail     K24 x9  pest  "slugs"',
    ]);
  });
  test('a cause that can’t be shared out stays a remark', () => {
    expect(row('Batch;Date;Count;Lost;Cause;Judged', 'K24;2024-10-09;40;9;4 dried;2025-07-05')).toEqual([
      '2024-10-09',
      'graft    K24 x40  "Cause: 4 dried"',
      '2025-07-05',
      'fail     K24 x9',
    ]);
  });
  test('taken, and lost later, with a day each', () => {
    expect(row('Graft;Date;Date taken;Date died', 'K24.1;2024-10-09;2025-07-05;2026-01-10')).toEqual([
      '2024-10-09',
      'graft    K24.1',
      '2025-07-05',
      'take     K24.1',
      '2026-01-10',
      'fail     K24.1',
    ]);
  });
  test('a day in the column of takes is the day it took', () => {
    expect(row('Graft;Date;Taken', 'K24.1;2024-10-09;7/15/2025')).toEqual([
      '2024-10-09',
      'graft    K24.1',
      '2025-07-15',
      'take     K24.1',
    ]);
  });
  test('without a day, the day of the import', () => {
    expect(row('Graft;Date;Taken', 'K24.1;2024-10-09;y').slice(2)).toEqual(['2027-11-25', 'take     K24.1']);
  });
  test('untied, sold: a line each', () => {
    expect(row('Graft;Date;Date untied;Sold', 'K24.1;2024-10-09;2025-08-01;2026-04-01').slice(2)).toEqual([
      '2025-08-01',
      'untie    K24.1',
      '2026-04-01',
      'sell     K24.1',
    ]);
    expect(row('Graft;Date;Date untied', 'K24.1;2024-10-09;in summer')[1]).toBe(
      'graft    K24.1  "Date untied: in summer"',
    );
  });
});

describe('rows that can’t be taken', () => {
  test.each([
    ['Graft;Date', 'K24.1;', 'the day it was made is blank'],
    ['Graft;Date', 'K24.1;in spring', '“in spring” is no date'],
    ['Graft;Date', 'K24.1;30/1/2024', '“30/1/2024” is no day with the month first'],
    ['Graft;Date', 'by the gate;2024-10-09', '“by the gate” is no graft’s number, such as 12, K26.12 or K26.1-40'],
    ['Batch;Date;Count', 'K24;2024-10-09;', 'how many were made is blank'],
    ['Batch;Date;Count', 'K24;2024-10-09;a few', '“a few” is no count'],
    ['Batch;Date;Count', 'K24;2024-10-09;0', 'no graft was made: the count is 0'],
    ['Batch;Graft;Date;Count', 'K24;1-40;2024-10-09;30', 'the count says 30, the numbers are 40'],
    ['Batch;Date;Count;Taken', 'K24;2024-10-09;40;41', '41 taken of 40'],
    ['Batch;Date;Count;Taken;Lost', 'K24;2024-10-09;40;31;10', '31 taken and 10 lost of 40'],
    ['Graft;Date;Taken;Lost', 'K24.1;2024-10-09;y;y', 'it is said to have taken and to be lost'],
    [
      'Graft;Date;Taken;Judged',
      'K24.1;2024-10-09;y;2024-09-09',
      'it is judged on 2024-09-09, before it was made on 2024-10-09',
    ],
    [
      'Graft;Date;Taken',
      'K24.1;2028-10-09;y',
      'it is judged on 2027-11-25, before it was made on 2028-10-09 (--on says another day)',
    ],
    ['Graft;Date;Date untied', 'K24.1;2024-10-09;2024-01-01', '“Date untied” is before the day it was made'],
    [
      'Graft;Date;Died;Date untied',
      'K24.1;2024-10-09;2025-01-01;2025-08-01',
      '“Date untied” is after the day it was lost',
    ],
    ['Graft;Date;Notes', 'K24.1;2024-10-09;bell\u0007', 'it has a character no text has (U+0007)'],
  ])('%s: %s', (headers, cells, why) => expect(row(headers, cells)).toEqual([why]));
  test('a blank number among numbers, a number twice, a blank batch among batches', () => {
    const { left } = imported('Batch,Graft,Date\nK24,1,2024-10-09\nK24,,2024-10-09\nK24,1,2024-10-09\n,2,2024-10-09\n');
    expect(left.map(({ row: at, why }) => [at, why])).toEqual([
      [3, 'it has no number, and other grafts of K24 have one'],
      [4, 'K24.1 stands in row 2 already'],
      [5, 'its batch is blank'],
    ]);
  });
});

describe('columns', () => {
  test('“Scion” and “Rootstock” are plants or figures, as their cells are', () => {
    expect(row('Graft;Date;Scion;Rootstock', 'K24.1;2024-10-09;4mm x 90mm;9mm')[1]).toBe(
      'graft    K24.1  stock 9mm  scion 4mm x 90mm',
    );
    expect(imported('Graft,Date,Scion,Rootstock\nK24.1,2024-10-09,Pinus mugo,Pinus sylvestris\n').log).toContain(
      'batch    K24  Pinus mugo / Pinus sylvestris',
    );
  });
  test('“Number” is asked for where both could be meant', () => {
    expect(askedBy('Batch,Number,Date\nK24,40,2024-10-09\nK25,55,2024-10-09\n')).toBe(
      '“Number” may be each graft’s number or how many were made. Say it with --map, a file such as {"Number":"count"}. Or "graft".',
    );
    expect(imported('Batch,Number,Date\nK24,1,2024-10-09\nK24,2,2024-10-09\n').log).toContain('graft    K24.1,2\n');
    expect(imported('Batch,Number,Date\nK24,40,2024-10-09\nK24,40,2024-10-10\n').counts.grafts).toBe(80);
  });
  test('--map says what a header doesn’t', () => {
    const csv = 'Batch,Number,Wann,Lang,Regal\nK24,40,2024-10-09,90,3\n';
    const map = new Map([
      ['Number', 'count'],
      ['wann', 'date'],
      ['Lang', 'scion-length mm'],
      ['Regal', 'none'],
    ]);
    const done = imported(csv, { map });
    expect(workOf(done)).toEqual(['2024-10-09', 'graft    K24 x40  scion 90mm']);
    expect(done.notes).toContain('“Regal”: left out, and in no line of the log: “3”.');
  });
  test.each([
    [new Map([['Wann', 'day']]), '--map takes “Wann” for “day”; it knows date, batch, graft,'],
    [new Map([['Wann', 'date furlong']]), '--map takes “Wann” for “date furlong”; it knows date,'],
    [new Map([['When', 'date']]), '--map names “When”, and no column has that header.'],
    [new Map(), 'No column says when the grafts were made; the headers are “Batch”, “Wann”.'],
  ])('what --map can’t mean is said', (map, sentence) => {
    expect(askedBy('Batch,Wann\nK24,2024-10-09\n', { map })).toContain(sentence);
  });
  test('of two columns for one fact the surer has it, the other is a remark', () => {
    const done = imported('Date,Date grafted,Graft\n2024-11-01,2024-10-09,K24.1\n');
    expect(workOf(done)).toEqual(['2024-10-09', 'graft    K24.1  "Date: 2024-11-01"']);
    expect(done.columns[0]?.as).toBe('remark, as “Date: …”, for “Date grafted” is the day the grafts were made');
  });
  test('what all rows say alike stands on the batch', () => {
    const done = imported('Graft,Date,Shelf,Notes\nK24.1,2024-10-09,3,low\nK24.2,2024-10-09,3,\n');
    expect(done.log).toContain('batch    K24  "Shelf: 3"\n');
    expect(workOf(done)).toEqual(['2024-10-09', 'graft    K24.1  "low"', 'graft    K24.2']);
  });
  test('a remark that would read as the name of a kind stands below, as a comment', () => {
    const done = imported(
      'Graft,Date,Species,Notes\nK24.1,2024-10-09,Acer palmatum,Weak\nK24.2,2024-10-09,Acer palmatum,Weak\n',
    );
    expect(done.log).toContain('\nbatch    K24  Acer palmatum\n# K24: Weak\n');
    expect(problemsIn(done.log)).toEqual([]);
  });
  test('a title above the headers is a comment; cells beyond the last header have a name', () => {
    const done = imported('Grafting 2024,,\nGraft,Date\nK24.1,2024-10-09,by the wall\n');
    expect(done.log).toContain('# Grafting 2024\n');
    expect(workOf(done)[1]).toBe('graft    K24.1  "column 3: by the wall"');
  });
  test('without batches in the sheet, a pair and a year are one', () => {
    const { log } = imported(
      'Date,Species,Understock\n2024-10-09,Pinus mugo,Pinus sylvestris\n2024-10-10,Picea pungens,Picea abies\n2025-10-09,Pinus mugo,Pinus sylvestris\n',
    );
    expect(log.match(/^batch .*/gm)).toEqual([
      'batch    P24   Pinus mugo / Pinus sylvestris',
      'batch    P24b  Picea pungens / Picea abies',
      'batch    P25   Pinus mugo / Pinus sylvestris',
    ]);
  });
  test('many numbers are several lines, a long remark stands below its line', () => {
    const odd = Array.from({ length: 60 }, (_, i) => `K24,${2 * i + 1},2024-10-09,`).join('\n');
    const done = imported(`Batch,Graft,Date,Notes\n${odd}\nK24,200,2024-10-09,${'a long story '.repeat(100)}\n`);
    expect(Math.max(...done.log.split('\n').map((line) => line.length))).toBeLessThan(120);
    expect(done.counts.grafts).toBe(61);
    expect(done.log).toContain('# K24.200: a long story');
  });
});

test.each([
  ['', 'There is no row in it.'],
  [`${','.repeat(600)}\n`.replace(',', 'Date,'), 'It has 601 columns: no more than 500 are read.'],
])('a sheet that is none: %#', (csv, sentence) => expect(askedBy(csv)).toBe(sentence));

test('20,000 rows', () => {
  const rows = Array.from(
    { length: 20_000 },
    (_, i) =>
      `K${i % 400},${Math.floor(i / 400) + 1},2024-10-${10 + (i % 20)},Pinus mugo,Pinus sylvestris,side veneer,40,mk,${i % 3 ? 'y' : 'n'}`,
  );
  const done = imported(`Batch,Graft,Date,Species,Understock,Method,Cut %,By,Take\n${rows.join('\n')}\n`);
  expect(done.counts).toMatchObject({ grafts: 20_000, left: 0 });
}, 120_000);
