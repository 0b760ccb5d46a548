// The command line from a cold start: CPU of the whole process against one that reads the file and splits it.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { record } from './records.mjs';

const cpuAtExit = `process.on('exit', () => {
  const { user, system } = process.cpuUsage();
  require('node:fs').writeSync(2, '\\ncpu ' + (user + system) / 1000);
});`;

/** Least of some runs, ms. @param {string[]} args */
function cpuOf(args, runs = 3) {
  return Math.min(
    ...Array.from({ length: runs }, () => {
      const { stderr } = spawnSync(process.execPath, args, {
        encoding: 'utf8',
        maxBuffer: 2 ** 28,
        stdio: ['ignore', 'ignore', 'pipe'],
      });
      return Number(/cpu ([\d.]+)$/.exec(stderr)?.[1]);
    }),
  );
}

/** @param {string} cli @param {number[]} counts */
export function coldRows(cli, counts) {
  const folder = mkdtempSync(join(tmpdir(), 'graftlog-cold-'));
  const hook = join(folder, 'hook.cjs');
  writeFileSync(hook, cpuAtExit);
  const split = "require('node:fs').readFileSync(process.argv[1], 'utf8').split('\\n').length";
  const on = ['--on', '2022-01-01'];
  try {
    const rows = counts.flatMap((count) => {
      const file = join(folder, `${count}.graft`);
      writeFileSync(file, record(count));
      const runs = count > 200_000 ? 1 : 3;
      const floor = cpuOf(['-r', hook, '-e', split, file], runs);
      return ['check', 'stats'].map((name) => {
        const own = cpuOf(['-r', hook, cli, name, file, ...on], runs);
        return { what: `${name}, ${count.toLocaleString('en')} lines`, own, floor };
      });
    });
    const same = [10, 1000].map((each) => {
      const file = join(folder, `each-${each}.graft`);
      writeFileSync(file, record(10_000, { each }));
      return cpuOf(['-r', hook, cli, 'check', file, ...on]);
    });
    rows.push({ what: 'check, 10⁷ grafts in 10⁴ lines, against 10⁵', own: same[1] ?? 0, floor: same[0] ?? 0 });
    return rows;
  } finally {
    rmSync(folder, { recursive: true });
  }
}
