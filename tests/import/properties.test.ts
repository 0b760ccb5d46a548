import fc from 'fast-check';
import Papa from 'papaparse';
import { expect, test } from 'vitest';
import { formatText } from '#grammar/format.ts';
import { Answers } from '#server/engine/answers.ts';
import { Log } from '#server/engine/log.ts';
import { importSheet } from '#server/import/import-sheet.ts';
import type { Imported } from '#server/import/model.ts';
import { readSheet } from '#server/import/sheet.ts';
import { readVerdict } from '#server/import/words.ts';
import { dayOf } from '../support/log.ts';
import { problemsIn } from '../support/reading.ts';
import { on } from './imported.ts';

const day = dayOf(on);
const imported = (csv: string): Imported | undefined => {
  const result = importSheet(csv, { file: 'grafts.csv', day, dates: 'us' });
  return 'done' in result ? result.done : undefined;
};

/** A cell that is meant for its column, and what of it must stand in the log or be named if its row is taken. */
interface Given {
  readonly cell: string;
  /** Absent: the cell's own text. */
  readonly seen?: RegExp;
}
const given = (cells: readonly (readonly [string, RegExp])[]): fc.Arbitrary<Given> =>
  fc.constantFrom(...cells.map(([cell, seen]) => ({ cell, seen })));
const blank: Given = { cell: '' };
/** What hands, programs and ill will leave in cells. */
const wild: fc.Arbitrary<Given> = fc
  .oneof(
    fc.constantFrom(
      ...[
        "=cmd|' /C calc'!A0",
        '@SUM(1+1)',
        '+1',
        '-2',
        '"',
        '""',
        '# no comment',
        'x40',
        'take K26',
        'a\r\nb',
        'a\n\n b',
      ],
      ...[
        'Straße, “Süd”',
        '5/16"',
        "O'Brien",
        'K26.1',
        '2024-13-45',
        'in',
        'by mk',
        '%',
        '\u200bzero',
        'rest',
        '🌲 tree',
      ],
      'n'.repeat(300),
      'word '.repeat(500),
      'quote " '.repeat(150),
    ),
    fc.string({ unit: 'grapheme', maxLength: 30 }),
    fc.string({ unit: 'binary', maxLength: 10 }),
  )
  .map((cell) => (cell === 'x40' ? { cell, seen: /40/ } : { cell }));
const some = (fitting: fc.Arbitrary<Given>) =>
  fc.oneof(
    { weight: 6, arbitrary: fitting },
    { weight: 1, arbitrary: fc.constant(blank) },
    { weight: 1, arbitrary: wild },
  );

/** Columns a sheet may have, beside the day. Their cells are said in the log in our words. */
const kinds: Readonly<Record<string, fc.Arbitrary<Given>>> = {
  Species: given([
    ['Pinus parviflora', /Pinus parviflora/],
    ['Picea glauca Conica', /Picea glauca 'Conica'/],
    ['Scots pine', /Scots pine/],
  ]),
  Rootstock: given([
    ['Pinus thunbergii', /Pinus thunbergii/],
    ['seedling', /seedling/],
  ]),
  Method: given([
    ['side veneer', /side-veneer/],
    ['Cleft graft', /cleft/],
    ['magic', /magic/],
  ]),
  'Cut depth (%)': given([
    ['40', /cut {2}?40%|cut 40%/],
    ['1/3', /cut 1\/3/],
    ['very deep', /very deep/],
  ]),
  'Scion length (mm)': given([
    ['90', /90mm/],
    ['9000', /9000/],
  ]),
  Place: given([
    ['frame', /in frame/],
    ['Cold house 2', /in Cold-house-2/],
  ]),
  'Scion tree': given([['T3', /from T3/]]),
  Tie: given([
    ['rubber', /tie rubber/],
    ['5" tape', /tie "5"" tape"/],
  ]),
  By: given([
    ['mk', /by mk/],
    ['mk & ro', /by mk,ro/],
  ]),
  Shelf: given([
    ['3', /Shelf: 3/],
    ['top left', /Shelf: top left/],
  ]),
  Notes: given([['a "good" day', /a (""|")good\1 day/]]),
  'Date untied': given([
    ['2026-08-01', /2026-08-01\n(?:\w.*\n|#.*\n)*untie/],
    ['in August', /in August/],
  ]),
};
const takes = given([
  ['yes', /take/],
  ['n', /fail/],
  ['dried', /dried/],
  ['?', /“\?” read as/],
  ['maybe', /Take\?: maybe/],
]);
const days = given([
  ['2024-10-09', /2024-10-09/],
  ['10/10/2024', /2024-10-10/],
  ['9 Oct 2024', /2024-10-09/],
]);

interface MadeUp {
  readonly headers: readonly string[];
  readonly rows: readonly (readonly Given[])[];
}

/** A row a graft or a batch, with numbers or without; some columns; some cells that don't fit. */
const sheets: fc.Arbitrary<MadeUp> = fc
  .record({
    numbers: fc.constantFrom('none', 'tags', 'batch and number', 'counts' as const),
    columns: fc.subarray(Object.keys(kinds), { minLength: 1 }),
    rows: fc.integer({ min: 1, max: 8 }),
  })
  .chain(({ numbers, columns, rows }) => {
    const batches: fc.Arbitrary<Given> = fc.constantFrom(
      { cell: 'K24', seen: /K24/ },
      { cell: 'White pines', seen: /White-pines/ },
      { cell: '24', seen: /B24/ },
    );
    const own = (row: number): (readonly [string, fc.Arbitrary<Given>])[] => {
      const number = { cell: String(row + 1), seen: new RegExp(`[.,]${row + 1}\\b|\\.\\.|K24|take|graft`) };
      if (numbers === 'tags') return [['Graft', some(fc.constant({ cell: `K24-00${row + 1}`, seen: /K24\./ }))]];
      if (numbers === 'batch and number')
        return [
          ['Batch', some(batches)],
          ['Graft', some(fc.constant(number))],
        ];
      if (numbers === 'counts')
        return [
          ['Batch', some(batches)],
          [
            'Count',
            some(
              given([
                ['40', /x40|\.1\.\.40|\d/],
                ['12', /x12|\d/],
              ]),
            ),
          ],
          [
            'Taken',
            some(
              given([
                ['31', /x31/],
                ['0', /^/],
                ['12', /take/],
              ]),
            ),
          ],
        ];
      return [];
    };
    const cells = (row: number) => [
      ['Date', some(days)] as const,
      ...own(row),
      ...(numbers === 'counts' ? [] : [['Take?', some(takes)] as const]),
      ...columns.map((column) => [column, some(kinds[column] as fc.Arbitrary<Given>)] as const),
    ];
    return fc
      .tuple(...Array.from({ length: rows }, (_, row) => fc.tuple(...cells(row).map(([, cell]) => cell))))
      .map((made) => ({ headers: cells(0).map(([header]) => header), rows: made }));
  });

const csvOf = ({ headers, rows }: MadeUp, delimiter = ',') =>
  Papa.unparse([[...headers], ...rows.map((row) => row.map(({ cell }) => cell))], { delimiter });

/** Letters and figures only: hyphens put between words, doubled quotation marks and breaks of comments don't count. */
const bare = (text: string) =>
  text
    .replace(/\n# {3}/g, '')
    .normalize('NFC')
    .toLowerCase()
    .replace(/[^\p{L}\p{M}\p{N}]/gu, '');

test('any text at all: nothing throws, and what is written is a log', () => {
  const heads = ['Date,Batch,Notes\n', 'Graft;Date;Take\n', '"', 'sep=;\n', '\uFEFFDate\tNumber\n', ''];
  const csvs = fc
    .tuple(
      fc.constantFrom(...heads),
      fc.array(
        fc.oneof(
          fc.string({ unit: 'binary', maxLength: 40 }),
          fc.constantFrom('2024-10-09', ',', ';', '\n', '"', 'K26', '\t', '1/2/2024'),
        ),
        { maxLength: 40 },
      ),
    )
    .map(([head, parts]) => head + parts.join(''));
  fc.assert(
    fc.property(csvs, (csv) => {
      const done = imported(csv);
      if (done) expectLog(done.log);
    }),
    { numRuns: 1000 },
  );
});

function expectLog(log: string): void {
  expect(problemsIn(log)).toEqual([]);
  expect(formatText(log)).toBe(log);
  if (log !== '') expect(log).toMatch(/^# imported from grafts\.csv\n/);
}

test('a made-up sheet: each cell is in the log, in the side file or named', () => {
  fc.assert(
    fc.property(sheets, (sheet) => {
      const done = imported(csvOf(sheet));
      if (!done) return;
      expectLog(done.log);
      const side = readSheet(done.leftText).rows.slice(1);
      expect(side.map(({ cells }) => cells.slice(0, sheet.headers.length))).toEqual(
        done.left.map(({ cells }) => cells),
      );
      const rows = sheet.rows.filter((row) => row.some(({ cell }) => cell.trim() !== ''));
      const taken = rows.filter(
        (row) => !done.left.some(({ cells }) => cells.every((cell, i) => cell === row[i]?.cell)),
      );
      const told = `${done.log}\n${done.notes.join('\n')}`.normalize('NFC');
      for (const row of taken)
        for (const [i, { cell, seen }] of row.entries()) {
          if (cell.trim() === '') continue;
          // an ill will's `+` is a yes there; the counts below hold it
          if (!seen && sheet.headers[i] === 'Take?' && readVerdict(cell)?.kind === 'yes') continue;
          if (seen) expect(told).toMatch(seen);
          // several trees in a cell are told apart, each under a name that begins with a letter
          else if (bare(cell) !== '')
            for (const part of cell.split(',')) expect(bare(told)).toContain(bare(part).slice(0, 30));
          // marks alone: commas between trees and blanks may go
          else for (const mark of new Set(cell.normalize('NFC').replace(/[\s,;]/g, ''))) expect(told).toContain(mark);
        }
    }),
    { numRuns: 400 },
  );
});

test('read again, the log has the counts the preview gives', () => {
  fc.assert(
    fc.property(sheets, (sheet) => {
      const done = imported(csvOf(sheet, ';'));
      if (!done || done.log === '') return;
      const log = new Log();
      log.addFile('grafts.graft', done.log);
      const answers = new Answers(log, day);
      const sum = { grafts: 0, took: 0, lost: 0 };
      for (const { figures } of answers.all()) {
        sum.grafts += figures.grafted;
        sum.took += figures.taken;
        sum.lost += figures.failed;
      }
      const { grafts, took, lost } = done.counts;
      expect(sum).toEqual({ grafts, took, lost });
      expect(
        answers
          .findings()
          .filter(({ severity }) => severity === 'error')
          .map(({ message, entry }) => `${entry.line.text}: ${message}`),
      ).toEqual([]);
    }),
    { numRuns: 400 },
  );
});
