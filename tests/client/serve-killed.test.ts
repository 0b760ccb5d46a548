import { spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, onTestFinished, test } from 'vitest';

const files = pathToFileURL(resolve('client/workbench/files.mjs')).href;

/** Saves a long text as the page's disk server does, in a program of its own, again and again. */
const saving = `
import { statOf, write } from ${JSON.stringify(files)};
const root = process.argv[1];
for (;;) {
  const { version, size } = await statOf(root, '/log.graft');
  await write(root, '/log.graft', Buffer.alloc(size === 2_000_000 ? 3_000_000 : 2_000_000, 'x'), { version });
}`;

test('killed in the middle of a save, the old text or the new one stands', async () => {
  let kills = 0;
  for (let run = 0; run < 4; run++) {
    const folder = mkdtempSync(join(tmpdir(), 'graftlog-'));
    onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
    writeFileSync(join(folder, 'log.graft'), 'y'.repeat(1000));
    const child = spawn(process.execPath, ['--input-type=module', '-e', saving, folder], { stdio: 'ignore' });
    const ended = new Promise((done) => child.on('exit', done));
    const look = () => {
      if (child.exitCode !== null) return;
      if (readdirSync(folder).length > 1) child.kill('SIGKILL');
      else setImmediate(look);
    };
    look();
    await ended;
    if (readdirSync(folder).length > 1) kills++;
    const text = readFileSync(join(folder, 'log.graft'), 'utf8');
    expect(['y'.repeat(1000), 'x'.repeat(2_000_000), 'x'.repeat(3_000_000)].indexOf(text)).toBeGreaterThanOrEqual(0);
  }
  expect(kills).toBeGreaterThan(0);
}, 60_000);
