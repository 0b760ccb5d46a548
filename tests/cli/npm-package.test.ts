import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve, sep } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { startServer } from '../support/server.ts';

const project = resolve(import.meta.dirname, '../..');
const { version } = JSON.parse(readFileSync(join(project, 'package.json'), 'utf8'));
const packed = join(project, `dist/graftlog-${version}.tgz`);
const shell = process.platform === 'win32';

const log = `place  frame  frost-free shade wind-break
batch  K26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame
2026-10-09
graft  K26.1..12  cut 22%  whorls 2
`;

// `npm test` packs before it tests; a single test file run by hand has nothing to install.
describe.skipIf(!existsSync(packed))('the npm package, installed into an empty folder', () => {
  let folder: string;
  let installed: string;
  const run = (...args: string[]) => {
    const { status, stdout, stderr } = spawnSync(join(folder, 'node_modules/.bin/graftlog'), args, {
      cwd: folder,
      encoding: 'utf8',
      shell,
    });
    return { status, out: stdout, err: stderr };
  };
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'graftlog-installed-'));
    writeFileSync(join(folder, 'package.json'), '{ "private": true }');
    writeFileSync(join(folder, '2026.graft'), log);
    const quiet = ['--offline', '--ignore-scripts', '--no-audit', '--no-fund', '--loglevel=error'];
    execFileSync('npm', ['install', ...quiet, packed], { cwd: folder, shell, stdio: 'pipe', timeout: 60_000 });
    installed = join(folder, 'node_modules/graftlog');
  }, 90_000);
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test('brings no other package', () => {
    expect(readdirSync(join(folder, 'node_modules')).filter((name) => !name.startsWith('.'))).toEqual(['graftlog']);
  });

  test('holds the command line, what its README leads to, and nothing else', () => {
    const files = readdirSync(installed, { recursive: true, encoding: 'utf8' })
      .filter((name) => statSync(join(installed, name)).isFile())
      .map((name) => name.split(sep).join('/'));
    const allowed = [
      /^(package\.json|README\.md|CHANGELOG\.md|LICENSE)$/,
      /^dist\/(cli\.js|third-party-notices\.txt)$/,
      /^client\/images\/editor\.png$/,
      /^examples\/guide\/[a-z]+\.md$/,
      /^examples\/drumlin-lane\/(\d{4}\.graft|nursery\.graft|invented-station\.csv)$|^examples\/drumlin-lane\/\.vscode\/settings\.json$/,
      /^grammar\/(generated\/(graft\.tmLanguage\.json|reference\.md)|pages\/[a-z-]+\.md|language-configuration\.json)$/,
      /^server\/engine\/practice\.graft$/,
    ];
    expect(files.filter((name) => !allowed.some((shape) => shape.test(name)))).toEqual([]);
    expect(files).toEqual(expect.arrayContaining(['dist/cli.js', 'LICENSE', 'README.md', 'CHANGELOG.md']));
    const links = [...readFileSync(join(installed, 'README.md'), 'utf8').matchAll(/\]\((?!#|\w+:)([^)#]+)/g)];
    expect(links.length).toBeGreaterThan(3);
    expect(links.map(([, to]) => String(to)).filter((to) => !existsSync(join(installed, to)))).toEqual([]);
  });

  test('keeps to its size, a twentieth above what it had when this was last looked at', () => {
    expect(statSync(packed).size).toBeLessThan(610_000);
    expect(statSync(join(installed, 'dist/cli.js')).size).toBeLessThan(1_465_000);
  });

  test('says its version', () => {
    expect(run('--version')).toEqual({ status: 0, out: `${version}\n`, err: '' });
  });

  test('checks a log, and lists its work', () => {
    expect(run('check', '--on', '2026-11-01')).toMatchObject({
      status: 0,
      out: expect.stringContaining('2026.graft:4:19: information cut-shallow: '),
      err: '',
    });
    expect(run('due', '--on', '2026-11-20')).toMatchObject({
      status: 0,
      out: expect.stringContaining('Work as of Fri 20 Nov 2026'),
      err: '',
    });
    const nursery = join('node_modules', 'graftlog', 'examples', 'drumlin-lane');
    expect(run('check', nursery, '--on', '2025-06-20').out).toContain('3 errors');
  });

  test('is a language server whose findings lead to their pages', async () => {
    const server = await startServer({ command: [join(installed, 'dist/cli.js'), 'lsp', '--on', '2026-11-01'] });
    const uri = pathToFileURL(join(folder, '2026.graft')).href;
    await server.open(uri, log);
    const [found] = await server.diagnostics(uri, ({ length }) => length > 0);
    expect(found?.code).toBe('cut-shallow');
    expect(readFileSync(fileURLToPath(found?.codeDescription?.href ?? ''), 'utf8')).toMatch(/^# `cut-shallow`/);
    expect(await server.stop()).toBe(0);
  });
});
