import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { createServer } from 'node:net';
import { homedir, tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { project } from '../../client/workbench/build-page.mjs';
import { browserPath } from './browser.ts';

/** Where `.ci/editor-server` installs one; `GRAFTLOG_EDITOR_SERVER` names another place. */
const home =
  process.env.GRAFTLOG_EDITOR_SERVER ??
  join(process.env.XDG_CACHE_HOME ?? join(homedir(), '.cache'), 'graftlog', 'editor-server-4.139.1');
const vsix = join(project, 'dist/graftlog.vsix');

/** Without an editor server, a browser or a package its tests are passed over; under CI they run, and fail. */
export const passedOver = !process.env.CI && !(existsSync(join(home, 'ready')) && existsSync(vsix) && browserPath());

/** A real editor, its extension host a Node process as on a desktop, with the packed extension installed in it. */
export interface EditorServer {
  readonly page: Page;
  /** On disk, this test's own. */
  readonly folder: string;
  /** Address of a folder, with a file of it open. */
  address(folder: string, file?: string): string;
  /** Ids of the language servers that its extension runs now. */
  languageServers(): number[];
  close(): Promise<void>;
}

const settings = {
  'security.workspace.trust.enabled': false,
  'workbench.startupEditor': 'none',
  'workbench.tips.enabled': false,
  'telemetry.telemetryLevel': 'off',
  'extensions.autoUpdate': false,
  'extensions.autoCheckUpdates': false,
  'extensions.ignoreRecommendations': true,
  'update.mode': 'none',
  'git.enabled': false,
  'chat.disableAIFeatures': true,
  'workbench.secondarySideBar.defaultVisibility': 'hidden',
  'workbench.colorTheme': 'Dark Modern',
  'window.autoDetectColorScheme': false,
  'editor.minimap.enabled': false,
  'files.autoSave': 'off',
};

/** @param files of the folder, by name */
export async function startEditorServer(files: Record<string, string>): Promise<EditorServer> {
  const executablePath = browserPath();
  if (!executablePath) throw new Error('No browser was found on this machine.');
  if (!existsSync(join(home, 'ready'))) throw new Error('No editor server: .ci/editor-server installs one.');
  const around = await mkdtemp(join(tmpdir(), 'graftlog-editor-'));
  const folder = join(around, 'my-nursery');
  const put = async (path: string, text: string) => {
    await mkdir(dirname(path), { recursive: true });
    await writeFile(path, text);
  };
  for (const [name, text] of Object.entries(files)) await put(join(folder, name), text);
  await put(join(around, 'user/User/settings.json'), JSON.stringify(settings));
  const node = join(home, 'own/bin/node');
  const extensions = join(around, 'extensions');
  // a configuration of its own, or it writes one into the home folder
  const own = [
    join(home, 'server/node_modules/code-server/out/node/entry.js'),
    '--config',
    join(around, 'config.yaml'),
  ];
  const places = ['--user-data-dir', join(around, 'user'), '--extensions-dir', extensions];
  execFileSync(node, [...own, ...places, '--install-extension', vsix], { stdio: 'pipe' });
  const port = await freePort();
  const quiet = ['--disable-telemetry', '--disable-update-check', '--disable-workspace-trust'];
  const serving = spawn(
    node,
    [
      ...own,
      '--auth',
      'none',
      '--bind-addr',
      `127.0.0.1:${port}`,
      ...places,
      ...quiet,
      '--disable-getting-started-override',
    ],
    { stdio: 'ignore' },
  );
  await answers(`http://127.0.0.1:${port}/healthz`, serving);
  const browser: Browser = await chromium.launch({ executablePath, args: ['--no-sandbox'] });
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  page.setDefaultTimeout(60_000);
  return {
    page,
    folder,
    address(at, file) {
      const opened = file ? [['openFile', `vscode-remote://127.0.0.1:${port}${join(at, file)}`]] : [];
      return `http://127.0.0.1:${port}/?folder=${encodeURIComponent(at)}&payload=${encodeURIComponent(JSON.stringify(opened))}`;
    },
    languageServers: () => runningWith(extensions),
    async close() {
      await browser.close();
      const ended = new Promise((done) => serving.once('exit', done));
      serving.kill();
      await ended;
      await rm(around, { recursive: true, force: true });
    },
  };
}

function freePort(): Promise<number> {
  return new Promise((done) => {
    const asking = createServer().listen(0, '127.0.0.1', () => {
      const { port } = asking.address() as { port: number };
      asking.close(() => done(port));
    });
  });
}

async function answers(address: string, serving: ChildProcess): Promise<void> {
  for (let tries = 0; tries < 300; tries++) {
    if (serving.exitCode !== null) throw new Error(`The editor server ended with ${serving.exitCode}.`);
    const well = await fetch(address).then(
      (response) => response.ok,
      () => false,
    );
    if (well) return;
    await new Promise((done) => setTimeout(done, 100));
  }
  throw new Error('The editor server does not answer.');
}

/** Processes that run the language server out of a folder of extensions: only those this test has started. */
function runningWith(extensions: string): number[] {
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .filter((name) => {
      try {
        const line = readFileSync(`/proc/${name}/cmdline`, 'utf8');
        return line.includes(extensions) && line.includes('dist/server.js');
      } catch {
        return false;
      }
    })
    .map(Number);
}
