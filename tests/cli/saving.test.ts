import { spawn, spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { formatText } from '#grammar/format.ts';
import { cli } from '../support/terminal.ts';

/* What the command line writes is there whole or not at all, whatever happens to the program or to the disk. */

const nursery = 'place frame\nbatch K26 Pinus mugo / Pinus sylvestris side-veneer in frame\n2026-10-09\n';
const untidy = `${nursery}${'graft K26 x40  cut 40 %, by mk\n'.repeat(12_000)}`;
const tidy = formatText(untidy);
const small = `${nursery}graft K26.1..40, cut 40 %\n`;
const sheet = `Batch,Graft,Date,Notes\n${Array.from({ length: 600 }, (_, i) => `K26,${i + 1},2024-10-09,note ${i}`).join('\n')}\n`;

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'graftlog-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const names = (of: string): string[] => readdirSync(of, { recursive: true, encoding: 'utf8' }).sort();
const halves = (of: string): string[] => names(of).filter((name) => name.endsWith('.tmp'));

/** Runs the command line and kills it as soon as something half is on the disk; whether it came to that. */
function killedWhileWriting(args: readonly string[]): Promise<boolean> {
  const child = spawn(process.execPath, [cli, ...args], { cwd: folder, stdio: 'ignore' });
  let killed = false;
  const look = () => {
    if (child.exitCode !== null || killed) return;
    if (halves(folder).length > 0) killed = child.kill('SIGKILL');
    else setImmediate(look);
  };
  look();
  return new Promise((done) => child.on('exit', (_, signal) => done(signal === 'SIGKILL')));
}

describe('killed in the middle of a save', () => {
  test('format: the old log or the new one', async () => {
    let kills = 0;
    for (let run = 0; run < 5 && kills === 0; run++) {
      writeFileSync(join(folder, 'log.graft'), untidy);
      if (await killedWhileWriting(['format', 'log.graft'])) kills++;
      expect([untidy, tidy].indexOf(readFileSync(join(folder, 'log.graft'), 'utf8'))).toBeGreaterThanOrEqual(0);
      for (const half of halves(folder)) rmSync(join(folder, half));
    }
    expect(kills).toBeGreaterThan(0);
  }, 120_000);

  test('import, report, labels, export: the whole file or none of it', async () => {
    writeFileSync(join(folder, 'log.graft'), small);
    writeFileSync(join(folder, 'grafts.csv'), sheet);
    const on = ['--on', '2027-04-06'];
    for (const [args, files] of [
      [['import', 'grafts.csv', ...on, '--out', 'year/2024.graft'], ['year/2024.graft']],
      [['report', 'log.graft', ...on, '--out', 'report.html'], ['report.html']],
      [['labels', 'log.graft', ...on, '--of', 'K26', '--out', 'labels.html'], ['labels.html']],
      [
        ['export', 'log.graft', ...on, '--out', 'tables'],
        ['tables/grafts.csv', 'tables/work.csv', 'tables/findings.csv'],
      ],
    ] as const) {
      mkdirSync(join(folder, 'year'), { recursive: true });
      const { status } = spawnSync(process.execPath, [cli, ...args], { cwd: folder });
      expect(status).toBe(0);
      const whole = files.map((file) => readFileSync(join(folder, file)));
      for (const file of files) rmSync(join(folder, file));
      rmSync(join(folder, 'tables'), { recursive: true, force: true });
      await killedWhileWriting(args);
      for (const [i, file] of files.entries())
        if (names(folder).includes(file)) expect(readFileSync(join(folder, file))).toEqual(whole[i]);
    }
  }, 120_000);
});

describe('a disk that refuses', () => {
  const run = (args: readonly string[], cwd = folder, as?: number) => {
    const { status, stderr } = spawnSync(process.execPath, [cli, ...args], {
      cwd,
      encoding: 'utf8',
      ...(as === undefined ? {} : { uid: as, gid: as }),
    });
    return { status, err: stderr };
  };

  test('standard output that is full is one sentence', () => {
    writeFileSync(join(folder, 'log.graft'), small);
    const { status, stderr } = spawnSync('sh', ['-c', `"${process.execPath}" "${cli}" check log.graft > /dev/full`], {
      cwd: folder,
      encoding: 'utf8',
    });
    expect({ status, stderr }).toEqual({
      status: 2,
      stderr: 'graftlog: What was to be printed can’t be written (the disk is full, ENOSPC).\n',
    });
  });

  test('a device or a pipe is not written over', () => {
    writeFileSync(join(folder, 'log.graft'), small);
    spawnSync('mkfifo', [join(folder, 'report.html')]);
    expect(run(['report', 'log.graft', '--on', '2027-04-06', '--out', 'report.html']).err).toContain(
      'is there already',
    );
  });

  // permission bits hold nobody back who is root: the command runs as nobody then
  const nobody = process.getuid?.() === 0 ? 65_534 : undefined;
  test('a folder nothing may be written to: the old files stand, and it is said', (context) => {
    if (run(['--version'], tmpdir(), nobody).status !== 0) return context.skip('nobody may not run the command here');
    writeFileSync(join(folder, 'log.graft'), small);
    writeFileSync(join(folder, 'report.html'), 'the old page');
    writeFileSync(join(folder, 'grafts.csv'), sheet);
    chmodSync(folder, 0o555);
    try {
      const on = ['--on', '2027-04-06'];
      expect(run(['format', 'log.graft'], folder, nobody)).toEqual({
        status: 2,
        err: 'graftlog: log.graft can’t be written (not allowed, EACCES); it stays as it was.\n',
      });
      expect(run(['report', 'log.graft', ...on, '--out', 'report.html'], folder, nobody)).toEqual({
        status: 2,
        err: 'graftlog: report.html can’t be written (not allowed, EACCES).\n',
      });
      for (const args of [
        ['import', 'grafts.csv', ...on, '--rename', '--out', '2024.graft'],
        ['export', 'log.graft', ...on, '--out', 'tables'],
        ['labels', 'log.graft', ...on, '--of', 'K26', '--out', 'labels.html'],
      ])
        expect(run(args, folder, nobody)).toMatchObject({ status: 2, err: expect.stringContaining('EACCES') });
      expect(names(folder)).toEqual(['grafts.csv', 'log.graft', 'report.html']);
      expect(readFileSync(join(folder, 'report.html'), 'utf8')).toBe('the old page');
    } finally {
      chmodSync(folder, 0o755);
    }
  });

  test('a disk that fills up: the old file stands, nothing half is left', (context) => {
    const disk = join(folder, 'disk');
    mkdirSync(disk);
    const mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=64k', 'none', disk]).status === 0;
    if (!mounted) return context.skip('no small disk can be mounted here');
    try {
      writeFileSync(join(disk, 'log.graft'), small);
      writeFileSync(join(disk, 'report.html'), 'the old page');
      writeFileSync(join(folder, 'grafts.csv'), sheet);
      expect(() => writeFileSync(join(disk, 'other'), Buffer.alloc(100_000))).toThrow(/ENOSPC/);
      const on = ['--on', '2027-04-06'];
      for (const args of [
        ['format', 'log.graft'],
        ['report', 'log.graft', ...on, '--out', 'report.html'],
        ['export', 'log.graft', ...on, '--out', 'tables'],
        ['labels', 'log.graft', ...on, '--of', 'K26', '--size', 'tray', '--out', 'labels.html'],
        ['import', '../grafts.csv', ...on, '--rename', '--out', '2024.graft'],
      ])
        expect({ args, ...run(args, disk) }).toEqual({
          args,
          status: 2,
          err: expect.stringMatching(/can’t be written \(the disk is full, ENOSPC\)/),
        });
      expect(names(disk).filter((name) => name !== 'tables')).toEqual(['log.graft', 'other', 'report.html']);
      expect(readFileSync(join(disk, 'log.graft'), 'utf8')).toBe(small);
      expect(readFileSync(join(disk, 'report.html'), 'utf8')).toBe('the old page');
    } finally {
      spawnSync('umount', [disk]);
    }
  });
});
