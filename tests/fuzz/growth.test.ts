import { describe, expect, test } from 'vitest';
import { formatText } from '#grammar/format.ts';
import { longestLine, readLine } from '#grammar/line.ts';
import { Answers } from '#server/engine/answers.ts';
import { Log } from '#server/engine/log.ts';
import { importSheet } from '#server/import/import-sheet.ts';
import { readStation } from '#server/weather/station.ts';
import { decode } from '#server/workspace/decode.ts';

/** Milliseconds of the quickest of some runs: what other programs take is in the slower ones. */
function quickest(work: () => unknown, runs: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < runs; i++) {
    const from = performance.now();
    work();
    least = Math.min(least, performance.now() - from);
  }
  return least;
}

/**
 * Eight times the text may take eight times as long, and as much again for what a machine does beside it. What grows with
 * the square takes 64 times as long. A run that was disturbed is looked at again.
 */
function expectInProportion(of: (size: number) => () => unknown, size: number, runs = 9): void {
  let ratio = 0;
  for (let attempt = 0; attempt < 4; attempt++) {
    const [short, long] = [of(size), of(8 * size)];
    // warmed up, so that the compiler isn't measured
    quickest(short, runs);
    const all = quickest(long, runs);
    // no line is longer, and nobody waits for a millisecond
    if (all < 1) return;
    ratio = all / Math.max(0.02, quickest(short, runs));
    if (ratio < 24) return;
  }
  expect(ratio).toBeLessThan(24);
}

const pieces = [
  ...['1', '1 ', '1/', '1..', '..', '1,', 'K.1,', 'K.1..2,', 'K.1-', '-', '−1', '1.1', '1/2 ', '1 1/2'],
  ...[
    'x',
    'x1',
    ' x ',
    '4mm x ',
    '4mmx',
    '1 x',
    '"',
    '""',
    "'",
    "''",
    "'a",
    '“',
    '‘',
    'a-',
    'a_',
    "a'",
    'é',
    'e\u0301',
  ],
  ...[
    '#',
    '/',
    '/ ',
    ' / ',
    'A. ',
    'A b / ',
    'f. ',
    '× ',
    '= ',
    ':',
    ',',
    ', ',
    '; ',
    '\t',
    '\u00A0',
    '\uFEFF',
    '<',
    '\ud800',
  ],
  ...[
    'in ',
    'by a,',
    'cut ',
    'cut 1',
    'any,',
    'rest ',
    'except ',
    'except K26.1,',
    'mar-1..',
    'jul..mar,',
    '2026-10-09 ',
    '08:15 ',
  ],
];
const heads = [
  '',
  '2026-10-09 graft K26.1  ',
  '2026-10-09 open K26 ',
  'practice ',
  'batch K26 ',
  'weather "',
  'accept ',
  "tree T1 Acer '",
];
const repeated = (head: string, piece: string, length: number, tail = '') =>
  head + piece.repeat(Math.ceil(length / piece.length)).slice(0, length - head.length - tail.length) + tail;

test.each(heads)(
  'reading a line that begins with %j grows no faster than its length, whatever is repeated',
  (head) => {
    for (const piece of pieces)
      for (const tail of ['', '!']) {
        const of = (length: number) => {
          const text = repeated(head, piece, length, tail);
          return () => readLine(text);
        };
        expectInProportion(of, longestLine / 8, 5);
      }
  },
  120_000,
);

describe('a whole text grows no faster than its length', () => {
  const log = (lines: number, line: (i: number) => string) => {
    const text = `place frame\nbatch K26 Pinus mugo in frame\n2026-10-09\n${Array.from({ length: lines }, (_, i) => line(i)).join('\n')}`;
    return text;
  };
  test.each<[string, (i: number) => string]>([
    ['lines of one verb', (i) => `graft K26.${i + 1}, cut 40 %`],
    ['names alike', (i) => `check plcae${i}`],
    ['nothing but marks', () => '<<<<<<< mine'],
    ['days', (i) => `20${10 + (i % 20)}-10-09`],
  ])('read, laid out and answered: %s', (_, line) => {
    const of = (lines: number) => {
      const text = log(lines, line);
      return () => {
        formatText(text);
        const read = new Log();
        read.addFile('a.graft', text);
        return new Answers(read, 21_500).findings();
      };
    };
    expectInProportion(of, 250, 3);
  });

  test('files of one length, a batch in each', () => {
    const of = (files: number) => {
      const names = Array.from({ length: files }, (_, i) => `K${1000 + i}`);
      const checks = (name: string) => Array.from({ length: 40 }, (_, i) => `check ${name}.${i + 1}`).join('\n');
      const texts = names.map((name) => `batch ${name} Pinus mugo\n2026-10-09\ngraft ${name}.1..40\n${checks(name)}`);
      return () => {
        const read = new Log();
        for (const [i, text] of texts.entries()) read.addFile(`${names[i]}.graft`, text);
        return read.fileNames;
      };
    };
    expectInProportion(of, 25, 3);
  });

  test.each([',', '"', '";', '""', '\n', 'Date,', '1,2\n', '\t', '"\n'])(
    'a spreadsheet or a station’s file of %j',
    (piece) => {
      for (const head of ['Graft,Date,Notes\n', 'date,temp_min,temp_max\n', '']) {
        const of = (length: number) => {
          const { text } = decode(Buffer.from(repeated(head, piece, length)));
          return () => [importSheet(text, { file: 'a.csv', day: 21_500, dates: 'us' }), readStation(text)];
        };
        expectInProportion(of, 2000, 3);
      }
    },
    120_000,
  );
});

describe('a line that is a bomb is one line', () => {
  const answered = (text: string) => {
    const log = new Log();
    log.addFile('a.graft', text);
    const answers = new Answers(log, 21_500);
    return [answers.findings().length, answers.work().length, [...answers.all()].map(({ figures }) => figures.grafted)];
  };
  test.each([
    ['a set of a billion', 'batch K26 Pinus mugo\n2026-10-09 graft K26.1..999999999\n2027-03-20 open K26 20%'],
    ['a count of a billion', 'batch K26 Pinus mugo\n2026-10-09 graft K26 x999999999\n2027-07-20 take K26 x99999999'],
    [
      'figures beyond all numbers',
      `batch K26 Pinus mugo\n2026-10-09 graft K26.${'9'.repeat(400)} cut ${'9'.repeat(400)}%`,
    ],
    [
      'a batch like a batch like a batch, ten thousand deep',
      Array.from({ length: 10_000 }, (_, i) => `batch K${i} ${i === 0 ? 'Pinus mugo' : `like K${i - 1}`}`).join('\n'),
    ],
    ['batches like each other in a ring', 'batch A like B\nbatch B like C\nbatch C like A\n2026-10-09 graft A x3'],
    [
      'a tree from a tree from a tree',
      Array.from({ length: 5000 }, (_, i) => `2026-10-09 collect L${i} from L${i - 1}\ntree T${i} in T${i + 1}`).join(
        '\n',
      ),
    ],
    [
      'every second graft, by turns',
      `batch K26 Pinus mugo\n2026-10-09 graft K26.1..900\n2027-03-20\n${Array.from({ length: 300 }, (_, i) => `open K26.${Array.from({ length: 300 }, (_, k) => 1 + 2 * k + (i % 2)).join(',')} ${i % 100}%`).join('\n')}`,
    ],
  ])('%s', (_, text) => {
    const from = performance.now();
    answered(text);
    // not a measure: a bomb would take minutes
    expect(performance.now() - from).toBeLessThan(20_000);
  });
});
