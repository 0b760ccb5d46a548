import { existsSync, readdirSync, readFileSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, test } from 'vitest';
import {
  messy,
  messyLeft,
  messyLog,
  rowABatch,
  rowABatchLog,
  rowAGraft,
  rowAGraftLeft,
  rowAGraftLog,
} from '../import/sheets.ts';
import { terminal } from '../support/terminal.ts';

const { folder, put, get, run } = terminal();

describe('import', () => {
  test('without --out only the preview is printed', () => {
    put('grafts.csv', rowAGraft);
    const { status, out, err } = run(['import', 'grafts.csv', '--on', '2025-08-01']);
    expect({ status, err }).toEqual({ status: 1, err: '' });
    expect(readdirSync(folder())).toEqual(['grafts.csv']);
    expect(out).toContain('grafts.csv: 9 rows, 14 columns\n');
    expect(out).toMatch(/^ {2}Cut depth \(%\) +how deep the cut went, in % where the cell has no unit$/m);
    expect(out).toContain('The log, its first 10 lines of 23\n  # imported from grafts.csv\n');
    expect(out).toContain(
      '7 rows taken, 2 left\n  7 grafts: 4 taken, 2 lost, 1 to judge\n  row 7: the day it was made is blank\n  row 10: A24.2 stands in row 9 already\n',
    );
    // an autumn graft whose place gives no frost cover: said once the log is there
    expect(out).toMatch(/^ +1 {2}warning +frost-cover-missing {2}Autumn graft in/m);
    expect(out).toMatch(/Nothing is written: --out names the new log\.\n$/);
  });

  test.each([
    ['grafts.csv', rowAGraft, [], rowAGraftLog, rowAGraftLeft],
    ['batches.csv', rowABatch, [], rowABatchLog, undefined],
    ['messy.csv', messy, ['--dates', 'us', '--on', '2025-06-01'], messyLog, messyLeft],
  ])('%s becomes a log and its side file, which other commands read', (name, csv, args, log, left) => {
    put(name, csv);
    const { status, err } = run(['import', name, '--out', '2024.graft', '--on', '2027-11-25', ...args]);
    expect({ status, err }).toEqual({ status: 1, err: 'Written: 2024.graft and 2024.graft.left.csv.\n' });
    expect(get('2024.graft')).toBe(log);
    if (left !== undefined) expect(get('2024.graft.left.csv')).toBe(left);
    expect(get(name)).toBe(csv);
    expect(run(['format', '--check', '2024.graft']).status).toBe(0);
    expect(run(['check', '2024.graft', '--on', '2027-11-25']).status).toBe(0);
  });

  test('all rows taken: no side file, exit 0', () => {
    put('grafts.csv', 'Graft,Date\nK24.1,2024-10-09\n');
    expect(run(['import', 'grafts.csv', '--out', 'a.graft']).status).toBe(0);
    expect(readdirSync(folder()).sort()).toEqual(['a.graft', 'grafts.csv']);
  });

  test('the same from standard input, and as JSON', () => {
    const { status, out } = run(['import', '-', '--format', 'json', '--on', '2025-08-01'], rowAGraft);
    expect(status).toBe(1);
    expect(JSON.parse(out)).toMatchObject({
      counts: { rows: 9, taken: 7, left: 2, grafts: 7, took: 4, lost: 2 },
      left: [
        { row: 7, why: 'the day it was made is blank' },
        { row: 10, why: 'A24.2 stands in row 9 already' },
      ],
      findings: { 'frost-cover-missing': 1 },
      log: rowAGraftLog.replace('grafts.csv', 'standard input'),
    });
  });

  test('dates that can be read two ways are asked for, and nothing is written', () => {
    put('messy.csv', messy);
    const { status, out, err } = run(['import', 'messy.csv', '--out', 'a.graft']);
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(err).toContain('is 2024-03-04 (--dates us: the month first) or 2024-04-03 (--dates eu: the day first)');
    expect(existsSync(join(folder(), 'a.graft'))).toBe(false);
  });

  test('day numbers that can be counted two ways are asked for; both ways of dates are told in one', () => {
    put('old.csv', 'Graft,Date,Sold\nK20.1,44112,3/4/2025\n');
    const { status, err } = run(['import', 'old.csv', '--dates', 'us', '--on', '2027-11-25']);
    expect(status).toBe(2);
    expect(err).toContain('2020-10-08 (--dates 1900: most spreadsheets) or 2024-10-09 (--dates 1904: older ones on a');
    const { out } = run(['import', 'old.csv', '--dates', 'us,1904', '--on', '2027-11-25']);
    expect(out).toContain('  2024-10-09\n');
    expect(out).toContain('  2025-03-04\n');
  });

  test('a batch that stands in another log of the folder is asked about; places are declared once', () => {
    put('logs/nursery.graft', 'place  frame  frost-free shade wind-break\nbatch  K24  Pinus mugo\n');
    put('grafts.csv', 'Graft,Date,Place\nK24.1,2024-10-09,frame\n');
    const asked = run(['import', 'grafts.csv', '--out', 'logs/2024.graft', '--on', '2027-11-25']);
    expect({ status: asked.status, out: asked.out }).toEqual({ status: 2, out: '' });
    expect(asked.err).toContain('Batch K24 stands in logs/nursery.graft (line 2) already.');
    expect(existsSync(join(folder(), 'logs/2024.graft'))).toBe(false);
    const done = run(['import', 'grafts.csv', '--out', 'logs/2024.graft', '--on', '2027-11-25', '--rename']);
    expect(done.status).toBe(0);
    // the frame gives cover, and is no unknown place
    expect(done.out).toContain('What Graft Log says of it\n  nothing\n');
    expect(run(['check', 'logs', '--on', '2027-11-25', '--fail-on', 'hint']).status).toBe(0);
    // in a folder of its own nothing clashes
    put('new/notes.txt', '');
    expect(run(['import', 'grafts.csv', '--out', 'new/2024.graft', '--on', '2027-11-25']).status).toBe(0);
  });

  test('--map names columns', () => {
    put('grafts.csv', 'Etikett,Wann,Regal\nK24.1,2024-10-09,3\n');
    put('map.json', '{ "Etikett": "graft", "Wann": "date", "Regal": "none" }');
    expect(run(['import', 'grafts.csv', '--map', 'map.json', '--out', 'a.graft']).status).toBe(0);
    expect(get('a.graft')).toContain('\n2024-10-09\ngraft    K24.1\n');
  });
});

describe('nothing is written over', () => {
  const args = ['import', 'grafts.csv', '--out', 'a.graft'];
  beforeEach(() => put('grafts.csv', rowAGraft));
  test.each(['a.graft', 'a.graft.left.csv'])('%s is there', (name) => {
    put(name, 'mine\n');
    expect(run(args)).toEqual({
      status: 2,
      out: '',
      err: `graftlog: ${name} is there already, and nothing is written over.\n`,
    });
    expect(get(name)).toBe('mine\n');
    expect(readdirSync(folder())).toHaveLength(2);
  });
  test('a link that leads nowhere is there, too', () => {
    symlinkSync(join(folder(), 'elsewhere'), join(folder(), 'a.graft'));
    expect(run(args).status).toBe(2);
    expect(existsSync(join(folder(), 'elsewhere'))).toBe(false);
  });
  test('a folder that is missing: a sentence, and no half of it left', () => {
    const { status, err } = run(['import', 'grafts.csv', '--out', 'no/a.graft']);
    expect(status).toBe(2);
    expect(err).toContain(
      'no/a.graft.left.csv can’t be written (there is no such file or folder, ENOENT); nothing is left behind.',
    );
    expect(readdirSync(folder())).toEqual(['grafts.csv']);
  });
  test('no row fits: the preview says why, and nothing is written', () => {
    put('grafts.csv', 'Graft,Date\nK24.1,spring\n');
    const { status, out, err } = run(args);
    expect(status).toBe(2);
    expect(out).toContain('row 2: “spring” is no date');
    expect(err).toBe('graftlog: No row of grafts.csv can be a line of a log; nothing is written.\n');
    expect(readdirSync(folder())).toEqual(['grafts.csv']);
  });
});

describe('encodings', () => {
  const csv = 'Graft,Date,Notes\nK24.1,2024-10-09,Süd\nK24.2,,Nörd\n';
  test.each([
    ['UTF-8 with its mark', Buffer.from(`\uFEFF${csv}`, 'utf8')],
    ['UTF-16', Buffer.from(`\uFEFF${csv}`, 'utf16le')],
    ['UTF-16, big end first', Buffer.from(`\uFEFF${csv}`, 'utf16le').swap16()],
    ['Windows-1252', Buffer.from(csv, 'latin1')],
  ])('%s is read, and the side file written in it', (_, bytes) => {
    put('grafts.csv', bytes);
    expect(run(['import', 'grafts.csv', '--out', 'a.graft']).status).toBe(1);
    expect(get('a.graft')).toContain('graft    K24.1  "Süd"');
    // the left row stands in the side file byte for byte
    const side = readFileSync(join(folder(), 'a.graft.left.csv'));
    const encoding = /^UTF-16/.test(_) ? 'utf16le' : _ === 'Windows-1252' ? 'latin1' : 'utf8';
    const cell = Buffer.from('K24.2,,Nörd,', encoding);
    expect(side.includes(_ === 'UTF-16, big end first' ? cell.swap16() : cell)).toBe(true);
  });
  test('what isn’t UTF-8 is said', () => {
    put('grafts.csv', Buffer.from(csv, 'latin1'));
    expect(run(['import', 'grafts.csv']).out).toContain('read as Windows-1252, as it is not UTF-8');
  });
});

describe('what can’t be run', () => {
  beforeEach(() => put('grafts.csv', rowAGraft));
  test.each([
    [['import'], 'import takes one spreadsheet, saved as CSV'],
    [['import', 'a.csv', 'b.csv'], 'import takes one spreadsheet'],
    [['import', 'none.csv'], 'none.csv can’t be read (there is no such file or folder, ENOENT).'],
    [['import', '.'], '. is no file.'],
    [['import', 'grafts.csv', '--out', 'a.csv'], '--out names the new log, a file that ends in .graft'],
    [['import', 'grafts.csv', '--out', '-'], '--out names the new log'],
    [
      ['import', 'grafts.csv', '--dates', 'uk'],
      '--dates is iso (year first), us (month first) or eu (day first); for day',
    ],
    [['import', 'grafts.csv', '--dates', 'us,eu'], '--dates is iso'],
    [['import', 'grafts.csv', '--map', 'grafts.csv'], 'grafts.csv is no map: it is JSON such as'],
    [
      ['import', 'grafts.csv', '--map', 'none.json'],
      'none.json can’t be read (there is no such file or folder, ENOENT).',
    ],
    [['import', 'grafts.csv', '--format', 'xml'], '--format is one of text, json.'],
    [['import', 'grafts.csv', '--on', 'today'], '--on takes a day as year-month-day'],
  ])('%j exits 2 with a sentence', (args, sentence) => {
    const { status, out, err } = run(args);
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(err).toContain(sentence);
    expect(err).not.toMatch(/ at .*\.(js|ts):\d/);
  });
  test.each([['{"Date grafted": 1}'], ['["date"]'], ['{'], ['null']])('a map that is none: %s', (text) => {
    put('map.json', text);
    expect(run(['import', 'grafts.csv', '--map', 'map.json']).err).toContain('map.json is no map');
  });
  test('a map with a name every object has maps a column of that name only', () => {
    put('map.json', '{"__proto__": "date"}');
    expect(run(['import', 'grafts.csv', '--map', 'map.json']).err).toContain(
      '--map names “__proto__”, and no column has that header.',
    );
  });
});

test('a hostile sheet moves no cursor and runs nothing', () => {
  const mark = '\u001b[2J\u001b]0;x\u0007';
  put('grafts.csv', `Graft,Date,${mark}Shelf\nK24.1,2024-10-09,ok\nK24.2,2024-10-09,${mark}\n`);
  const { status, out, err } = run(['import', 'grafts.csv', '--out', 'a.graft']);
  expect(status).toBe(1);
  expect(out + err).not.toMatch(/[\u001b\u0007]/);
  expect(get('a.graft')).not.toMatch(/[\u001b\u0007]/);
  expect(get('a.graft.left.csv')).toContain(mark);
});
