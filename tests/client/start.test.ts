import { spawn } from 'node:child_process';
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { firstLog } from '../../client/workbench/first-log.mjs';
import { folderDay } from '../../client/workbench/folder-day.mjs';

const start = resolve(import.meta.dirname, '../../client/workbench/start.mjs');

async function folderOf(files: Record<string, string>): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'graftlog-'));
  onTestFinished(() => rm(folder, { recursive: true }));
  for (const [name, text] of Object.entries(files)) {
    await mkdir(join(folder, name, '..'), { recursive: true });
    await writeFile(join(folder, name), text);
  }
  return folder;
}

test('npm start -- FOLDER says what the log says and opens it', { timeout: 180_000 }, async () => {
  const folder = await folderOf({
    'log/2026.graft': 'batch K26  Pinus parviflora / P. thunbergii  side-veneer\n2026-10-09 graft K26.1..12  cut 22%\n',
    'log/.vscode/settings.json': '{ "graftlog.today": "2026-11-02" }',
  });
  const started = spawn(process.execPath, [start, 'log', '--port', '0'], { env: { ...process.env, INIT_CWD: folder } });
  const ended = new Promise((done) => started.on('exit', done));
  onTestFinished(() => void started.kill());
  let said = '';
  for await (const part of started.stdout) {
    said += part;
    if (said.includes('Ctrl+C')) break;
  }
  expect(said).toContain('$ graftlog check log --on 2026-11-02\n');
  expect(said).toMatch(/^log\/2026\.graft:2:29: \w+ cut-shallow: /m);
  expect(said).toContain('$ graftlog due log --on 2026-11-02\n');
  expect(said).toContain('Work as of Mon 2 Nov 2026');
  expect(said).toMatch(/^K26\s+12\s+0\s+0\s+12/m);
  const address = /http:\/\/127\.0\.0\.1:\d+\/[0-9a-f]{32}\//.exec(said)?.[0] ?? '';
  const boot = await (await fetch(`${address}boot`)).json();
  expect(boot).toMatchObject({
    name: 'log',
    first: '2026.graft',
    manifest: { name: 'graftlog', displayName: 'Graft Log' },
  });
  started.kill('SIGINT');
  expect(await ended).toBe(0);
});

test('a folder that is not there is said in a sentence', async () => {
  const started = spawn(process.execPath, [start, 'no-such-folder']);
  let said = '';
  for await (const part of started.stderr) said += part;
  expect(said).toMatch(/^There is no folder .*no-such-folder\.\n$/);
});

test('the day of a folder stands in its settings, comments and all', async () => {
  const day = async (settings: string) => folderDay(await folderOf({ '.vscode/settings.json': settings }));
  expect(await day('{ "graftlog.today": "2029-06-21" }')).toBe('2029-06-21');
  expect(await day('{\n  // the day of the example\n  "files.eol": "\\n",\n  "graftlog.today": "2029-06-21",\n}')).toBe(
    '2029-06-21',
  );
  expect(await day('{\n  // "graftlog.today": "2029-06-21"\n}')).toBeUndefined();
  expect(await day('{ "graftlog.today": "" }')).toBeUndefined();
  expect(folderDay(await folderOf({}))).toBeUndefined();
});

test('the log written to last is opened first; of one minute, that of the latest year, else the largest', async () => {
  expect(await firstLog(await folderOf({}))).toBeNull();
  expect(await firstLog(await folderOf({ 'notes.txt': 'x', '.hidden.graft': 'x' }))).toBeNull();
  expect(await firstLog(await folderOf({ 'a.graft': 'x', 'b.graft': 'xxx', 'c.graft': 'xx' }))).toBe('b.graft');
  const years = { '2024.graft': 'xxx', 'season-2025.graft': 'x', 'nursery.graft': 'xxxxx' };
  expect(await firstLog(await folderOf(years))).toBe('season-2025.graft');
});
