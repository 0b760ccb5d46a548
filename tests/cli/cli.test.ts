import { spawnSync } from 'node:child_process';
import { chmodSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import stringWidth from 'string-width';
import { describe, expect, test } from 'vitest';
import { cli, terminal } from '../support/terminal.ts';

const { folder, put, run } = terminal();

const log = `site   Drumlin-Lane  lat 47.90  lon 8.10  tz Europe/Berlin
place  frame  frost-free shade wind-break
batch  K26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame

2026-10-09
graft  K26.1..11  cut 40%  whorls 2  by mk
graft  K26.12     cut 22%  whorls 2  by mk
2027-03-20
swell  K26
2027-03-24
open   K26  10%
`;

describe('check', () => {
  test('a line for each finding, then the sum; exit 1 at the level asked for', () => {
    put('log.graft', log);
    expect(run(['check', '--on', '2027-04-01'])).toEqual({
      status: 0,
      out: expect.stringMatching(
        /^log\.graft:7:19: information cut-shallow: Cut 22 % deep: side-veneer grafts are cut .*\n\n1 information in 1 file\.\n$/,
      ),
      err: '',
    });
    expect(run(['check', '--on', '2027-04-01', '--fail-on', 'information']).status).toBe(1);
    expect(run(['check', '--on', '2027-04-01', '--fail-on', 'warning']).status).toBe(0);
  });

  test('JSON as it is fixed, columns from 1', () => {
    put('log.graft', log);
    const { out } = run(['check', '--on', '2027-04-01', '--format', 'json']);
    expect(JSON.parse(out)).toEqual({
      findings: [
        {
          file: 'log.graft',
          line: 7,
          column: 19,
          endLine: 7,
          endColumn: 26,
          severity: 'information',
          code: 'cut-shallow',
          message: expect.stringContaining('Cut 22'),
        },
      ],
    });
  });

  test('a healthy log says so', () => {
    put('log.graft', log.replace('22%', '40%'));
    expect(run(['check', '--on', '2027-04-01'])).toEqual({ status: 0, out: 'Nothing to say about 1 file.\n', err: '' });
  });

  test('standard input is a log', () => {
    expect(run(['check', '-', '--on', '2027-04-01'], 'opne K26\n')).toMatchObject({
      status: 1,
      out: expect.stringContaining('-:1:1: error unknown-word'),
    });
  });
});

describe('due', () => {
  test('grouped by state, with grafts, step and line', () => {
    put('log.graft', log);
    const { status, out } = run(['due', '--on', '2027-04-06']);
    expect(status).toBe(0);
    expect(out).toContain('Work as of Tue 6 Apr 2027\n');
    expect(out).toMatch(/Due \(\d+\)\n {2}K26\.1\.\.12 +open a step to 15–20 %, by 7 Apr +12 {2}frame +line 11/);
    for (const line of out.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
  });

  test('in a log of several files each row says whose line it is', () => {
    put('2026.graft', log);
    put('nursery.graft', '# more to come\n');
    const { out } = run(['due', '--on', '2027-04-06']);
    expect(out).toMatch(/by 7 Apr +12 {2}frame +2026:11\n/);
    expect(out).toMatch(/\n\nBehind the work: how many are living, where they stand, file and line\.\n$/);
    for (const line of out.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
  });

  test('JSON', () => {
    put('log.graft', log);
    const found = JSON.parse(run(['due', '--on', '2027-04-06', '--format', 'json']).out);
    expect(found.on).toBe('2027-04-06');
    const open = found.work.find((item: { what: string }) => item.what === 'open');
    expect(open).toMatchObject({
      grafts: 'K26.1..12',
      count: 12,
      batch: 'K26',
      place: 'frame',
      hand: 'mk',
      from: '2027-04-03',
      by: '2027-04-07',
      state: 'due',
      waits: false,
      file: 'log.graft',
      line: 11,
    });
    expect(open.to.low).toBeCloseTo(0.15, 9);
    expect(open.to.high).toBeCloseTo(0.2, 9);
  });
});

describe('due --hours', () => {
  test('work levelled to the hours there are, and what can’t fit', () => {
    put('log.graft', log);
    const { out } = run(['due', '--on', '2027-04-06', '--hours', '2']);
    expect(out).toContain('Work in 2 h a week, earliest deadline first');
    // 12 grafts at half a minute: the shipped practice line `task open 0.5min`
    expect(out).toMatch(/K26\.1\.\.12 +open a step to 15–20 % +12 +6 min/);
    const { levelled } = JSON.parse(run(['due', '--on', '2027-04-06', '--hours', '0.05', '--format', 'json']).out);
    expect(levelled.shortage).toBeGreaterThan(0);
    expect(run(['due', '--hours', 'many']).status).toBe(2);
  });
});

describe('stats', () => {
  test('counts, rate with its interval, and what is to judge', () => {
    put('log.graft', `${log}2027-05-20\nfree   K26\n2027-07-05\ntake   K26.1..9\nfail   K26.10..12  dried\n`);
    const { out } = run(['stats', '--on', '2027-08-01']);
    // Wilson's interval for 9 of 12: 0.468 to 0.911 (Newcombe 1998, method 3)
    expect(out).toMatch(/K26 +12 +9 +3 +0 {2}take 75 % \(47–91\)/);
    expect(out).toContain('lost: 3 dried');
    expect(out).toContain('Half of the losses were seen by day 269.');
    const [group] = JSON.parse(run(['stats', '--on', '2027-08-01', '--format', 'json']).out).groups;
    expect(group).toMatchObject({
      key: { batch: 'K26' },
      grafted: 12,
      taken: 9,
      failed: 3,
      open: 0,
      rate: 0.75,
      causes: { dried: 3 },
      basis: 'batch',
    });
    expect(group.low).toBeCloseTo(0.4677, 3);
  });

  test('keys that are none, or no key at all, exit 2 with all there are', () => {
    put('log.graft', log);
    expect(run(['stats', '--by', 'method,colour'])).toMatchObject({
      status: 2,
      out: '',
      err: expect.stringMatching(/^graftlog: There is no key colour: batch, pair, .*, whorls\.\n$/),
    });
    expect(run(['stats', '--compare', '']).err).toContain('--compare takes a key: batch');
  });
});

describe('format', () => {
  test('writes the layout, or says what would change', () => {
    put('log.graft', 'graft K26.1..11  cut 40 %\ngraft K26.12 cut 40%\n');
    expect(run(['format', '--check'])).toMatchObject({ status: 1, out: 'would change log.graft\n' });
    expect(run(['format'])).toMatchObject({ status: 0, out: 'changed log.graft\n' });
    expect(readFileSync(join(folder(), 'log.graft'), 'utf8')).toBe(
      'graft    K26.1..11  cut 40%\ngraft    K26.12     cut 40%\n',
    );
    expect(run(['format', '--check'])).toMatchObject({ status: 0, out: 'Nothing to tidy in 1 file.\n' });
  });
  test('from standard input to standard output', () => {
    expect(run(['format', '-'], 'take   K26   K27').out).toBe('take     K26  K27');
  });
});

describe('sheet', () => {
  const sheet = (out: string) => run(['sheet', '--on', '2027-04-06', '--out', out]);

  test('a page of its name is written anew', () => {
    put('log.graft', log);
    put('sheet.html', 'an older one');
    expect(sheet('sheet.html')).toMatchObject({ status: 0, out: '' });
    expect(readFileSync(join(folder(), 'sheet.html'), 'utf8')).toContain('Bench sheet');
  });

  test('nothing else is written over', () => {
    put('log.graft', log);
    put('grafts.csv', 'Tag,Taken\n');
    expect(sheet('grafts.csv').err).toContain(
      'grafts.csv is there already and is no page: name another file for --out.',
    );
    expect(sheet('log.graft').err).toContain('--out would write over a log');
    expect(sheet('nowhere/sheet.html').err).toContain(
      'nowhere/sheet.html can’t be written (there is no such file or folder, ENOENT).',
    );
    expect(readFileSync(join(folder(), 'grafts.csv'), 'utf8')).toBe('Tag,Taken\n');
    expect(readFileSync(join(folder(), 'log.graft'), 'utf8')).toBe(log);
  });
});

describe('what can’t be run, and bad files', () => {
  test.each([
    [['chekc'], 'There is no command chekc.'],
    [['check', '--on', 'tomorrow'], '--on takes a day as year-month-day'],
    [['check', '--colour', 'x'], "Unknown option '--colour'"],
    [['check', 'missing.graft'], 'There is no file or folder missing.graft.'],
    [['check'], 'No graft log in .'],
    [['check', '--fail-on', 'soon'], '--fail-on is one of'],
  ])('%j exits 2 with a sentence', (args, sentence) => {
    if (args.includes('--on')) put('log.graft', log);
    const { status, out, err } = run(args);
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(err).toContain(sentence);
  });

  test('a file that is no text, a 5 MB line, marks of two versions: a finding, and the other lines are read', () => {
    put('a.graft', Buffer.from([0x00, 0xff, 0xfe, 0x0a, 0x6f, 0x70, 0x6e, 0x65, 0x00]));
    put('b.graft', `check "${'x'.repeat(5_000_000)}"\n<<<<<<< mine\n2026-10-09 opne K26\n`);
    const { status, out } = run(['check', '--on', '2027-04-01']);
    expect(status).toBe(1);
    expect(out).toContain('b.graft:1:1: error unreadable: This line has 5,000,008 characters');
    expect(out).toContain('b.graft:2:1: error unreadable: Two versions of this log');
    expect(out).toContain('b.graft:3:12: error unknown-word');
    expect(out).not.toContain('\0');
  });

  test('a log that is not UTF-8 is read as what it is, said in a sentence, and left as it is by format', () => {
    const words = log.replace('by mk', 'by Jörg').replace('\n', '  # Hütte\n');
    expect(words).toContain('Jörg');
    const swapped = Buffer.from(words, 'utf16le').swap16();
    for (const [name, bytes, as] of [
      ['latin.graft', Buffer.from(words, 'latin1'), 'Windows-1252'],
      ['marked.graft', Buffer.from(`\uFEFF${words}`, 'utf16le'), 'UTF-16'],
      ['bare.graft', Buffer.from(words, 'utf16le'), 'UTF-16'],
      ['big.graft', swapped, 'UTF-16'],
    ] as const) {
      put(name, bytes);
      const { status, out, err } = run(['check', name, '--on', '2027-04-01', '--format', 'json']);
      expect(status, name).toBe(0);
      expect(JSON.parse(out).findings.map((one: { code: string }) => one.code)).toEqual(['cut-shallow']);
      expect(err).toBe(`graftlog: ${name} is not UTF-8, it is read as ${as}: save it as UTF-8.\n`);
      run(['format', name]);
      expect(readFileSync(join(folder(), name)).equals(bytes), name).toBe(true);
    }
  });

  test('two files with the same lines are one sentence, not a hundred', () => {
    put('2026.graft', log);
    put('2026 (copy).graft', log);
    const findings = JSON.parse(run(['check', '--on', '2027-04-01', '--format', 'json']).out).findings;
    expect(findings.map((one: { file: string; code: string }) => `${one.file} ${one.code}`).sort()).toEqual([
      '2026 (copy).graft repeated-name',
      '2026.graft cut-shallow',
    ]);
  });

  test('a file that may not be read is named, the others decide', () => {
    put('a.graft', log);
    put('b.graft', log);
    chmodSync(folder(), 0o755);
    chmodSync(join(folder(), 'b.graft'), 0);
    // root reads everything: then the command runs as somebody else
    const as = process.getuid?.() === 0 ? { uid: 65_534, gid: 65_534 } : {};
    const { status, stderr } = spawnSync(process.execPath, [cli, 'check', '--on', '2027-04-01'], {
      cwd: folder(),
      encoding: 'utf8',
      ...as,
    });
    expect({ status, stderr }).toEqual({
      status: 0,
      stderr: expect.stringContaining('b.graft can’t be read (not allowed, EACCES)'),
    });
  });

  test('a reader that goes early is no error', () => {
    put('log.graft', 'opne\n'.repeat(20_000));
    const { status, stderr } = spawnSync(
      'sh',
      ['-c', `"${process.execPath}" "${cli}" check --fail-on never | head -1`],
      { cwd: folder(), encoding: 'utf8' },
    );
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  });
});

test('help names every command', () => {
  const { status, out } = run(['help']);
  expect(status).toBe(0);
  for (const command of ['check', 'due', 'stats', 'plan', 'trial', 'format', 'lsp'])
    expect(out).toContain(`graftlog ${command}`);
  for (const line of out.split('\n')) expect(stringWidth(line), line).toBeLessThanOrEqual(80);
});

test('help of one command has its options, and no others', () => {
  const { status, out } = run(['plan', '--help']);
  expect({ status, head: out.split('\n')[0] }).toEqual({ status: 0, head: 'graftlog plan [PATH...] --takes N' });
  expect(out).toMatch(/^ {2}--takes N .*\n {2}--confidence P /m);
  expect(out).not.toContain('--fail-on');
});
