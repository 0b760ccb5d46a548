import fc from 'fast-check';
import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import { leftText } from '#server/import/left.ts';
import { readSheet, type Sheet } from '#server/import/sheet.ts';

const cellsOf = (text: string) => readSheet(text).rows.map(({ cells }) => cells);

describe('the cells of a CSV text', () => {
  test.each([
    [
      'commas',
      'a,b\n1,2\n',
      [
        ['a', 'b'],
        ['1', '2'],
      ],
    ],
    [
      'semicolons, decimal commas',
      'a;b\n1,5;2,5\n',
      [
        ['a', 'b'],
        ['1,5', '2,5'],
      ],
    ],
    [
      'tabs',
      'a\tb\n1,5\t2\n',
      [
        ['a', 'b'],
        ['1,5', '2'],
      ],
    ],
    ['a mark in front', '\uFEFFa,b\n', [['a', 'b']]],
    [
      'CRLF, a line break inside a cell',
      'a,b\r\n"x\r\ny",2\r\n',
      [
        ['a', 'b'],
        ['x\r\ny', '2'],
      ],
    ],
    [
      'CR alone',
      'a,b\r1,2\r',
      [
        ['a', 'b'],
        ['1', '2'],
      ],
    ],
    [
      'line ends mixed',
      'a,b\r\n1,2\n3,4"\r\n',
      [
        ['a', 'b'],
        ['1', '2'],
        ['3', '4"'],
      ],
    ],
    [
      'a return that belongs to its cell',
      'a,b\r\n1,"2\r"\r\n',
      [
        ['a', 'b'],
        ['1', '2\r'],
      ],
    ],
    ['the delimiter said', 'sep=;\na;b,c\n', [['a', 'b,c']]],
    [
      'rows of nothing left out',
      'a,b\n,\n \n1,2\n',
      [
        ['a', 'b'],
        ['1', '2'],
      ],
    ],
    ['nothing', '', []],
  ])('%s', (_, text, cells) => expect(cellsOf(text)).toEqual(cells));
  test('rows are numbered as a spreadsheet numbers them', () => {
    expect(readSheet('a,b\n"1\n2",3\n\n4,5\n').rows.map(({ row }) => row)).toEqual([1, 2, 4]);
  });
  test.each([
    ['never closed', 'a,b\n1,"x\n2,y\n3,"z"\n'],
    ['closed too early', 'a,b\n1,"x" y\n2,y\n3,z\n'],
  ])('a stray quotation mark costs its own line: %s', (_, text) => {
    expect(readSheet(text).rows.map(({ row, torn }) => [row, torn ?? false])).toEqual([
      [1, false],
      [2, true],
      [3, false],
      [4, false],
    ]);
  });
  test('stray marks in every line: a reading that began anew at each would not end in the time a test has', () => {
    const sheet = readSheet(`a,b\n${'1,"x\n'.repeat(50_000)}`);
    expect(sheet.rows).toHaveLength(50_001);
  });
});

const cell = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 12 }).filter((text) => !/^\uFEFF/.test(text)),
  fc.constantFrom('', '"', 'a"b', '""', '=1+1', '\r', '\n', ' x ', ';', ',', '\t', 'ä', '5/16"'),
);
const delimiters = [',', ';', '\t'] as const;

test('what a program writes as CSV is read cell by cell', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...delimiters),
      fc.constantFrom('\r\n', '\n'),
      fc.array(fc.array(cell, { minLength: 3, maxLength: 3 }), { maxLength: 6 }),
      (delimiter, newline, rows) => {
        const head = ['Date', 'Batch', 'Notes'];
        const text = `sep=${delimiter}${newline}${Papa.unparse([head, ...rows], { delimiter, newline })}${newline}`;
        const full = rows.filter((row) => row.some((one) => one.trim() !== ''));
        expect(cellsOf(text)).toEqual([head, ...full]);
      },
    ),
    { numRuns: 300 },
  );
});

test('the side file gives each cell back to the letter', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...delimiters),
      fc.constantFrom('\r\n' as const, '\n' as const, '\r' as const),
      fc.array(fc.array(cell, { minLength: 1, maxLength: 5 }), { minLength: 1, maxLength: 5 }),
      (delimiter, lineEnd, rows) => {
        const sheet: Sheet = { delimiter, lineEnd, rows: [] };
        const left = rows.map((cells, i) => ({ row: i + 2, cells, why: 'no date' }));
        const text = leftText(sheet, { row: 1, cells: ['Date', 'Batch', 'Notes'] }, left);
        const wide = Math.max(3, ...rows.map((cells) => cells.length));
        const back = cellsOf(`sep=${delimiter}${lineEnd}${text}`).slice(1);
        expect(back).toEqual(rows.map((cells) => [...cells, ...Array(wide - cells.length).fill(''), 'no date']));
      },
    ),
    { numRuns: 300 },
  );
});

test('any text at all is read, and no letter of it is lost', () => {
  const text = fc.oneof(
    fc.string({ unit: 'binary', maxLength: 200 }),
    fc
      .array(fc.constantFrom('"', ',', ';', '\t', '\n', '\r\n', 'a', ' ', '""', 'b1'), { maxLength: 80 })
      .map((parts) => parts.join('')),
  );
  const bare = (words: string) => words.replace(/[\s",;\uFEFF]/g, '');
  fc.assert(
    fc.property(text, (csv) => {
      if (/^"?sep=/.test(csv)) return;
      const cells = readSheet(csv).rows.flatMap((row) => row.cells);
      expect(bare(cells.join(''))).toBe(bare(csv));
    }),
    { numRuns: 1000 },
  );
});
