// `npm start [-- FOLDER]`: the workbench in a browser on a folder of logs, and what the command line says of it.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { serve } from './serve.mjs';

const project = resolve(import.meta.dirname, '../..');
const page = join(project, 'dist/page');

/** Builds the page where its sources or the lock file changed since; the extension's own files are not part of it. */
export async function buildPage() {
  const hash = createHash('sha256').update(readFileSync(join(project, 'package-lock.json')));
  for (const name of readdirSync(import.meta.dirname).sort())
    if (/\.(ts|html)$|vite/.test(name)) hash.update(readFileSync(join(import.meta.dirname, name)));
  const stamp = hash.digest('hex');
  const stampFile = join(page, '.stamp');
  if (existsSync(stampFile) && readFileSync(stampFile, 'utf8') === stamp) return;
  console.log('Building the workbench page, once …');
  const { build } = await import('vite');
  await build({ configFile: join(import.meta.dirname, 'vite.config.mjs') });
  mkdirSync(page, { recursive: true });
  writeFileSync(stampFile, stamp);
}

/** The day a folder’s settings compute for, if they name one. */
function dayOf(folder) {
  try {
    return JSON.parse(readFileSync(join(folder, '.vscode/settings.json'), 'utf8'))['graftlog.today'] || undefined;
  } catch {
    return undefined;
  }
}

function say(command, folder) {
  const day = dayOf(folder);
  const args = [
    join(project, 'dist/cli.js'),
    command,
    folder,
    ...(day ? ['--on', day] : []),
    ...(command === 'check' ? ['--fail-on', 'never'] : []),
  ];
  const { stdout, stderr } = spawnSync(process.execPath, args, { encoding: 'utf8', cwd: folder });
  console.log(`\n$ graftlog ${command}${day ? ` --on ${day}` : ''}\n${stdout}${stderr}`.trimEnd());
}

if (process.argv[1] === import.meta.filename) {
  const from = process.env.INIT_CWD ?? process.cwd();
  const folder = process.argv[2] ? resolve(from, process.argv[2]) : join(project, 'examples/drumlin-lane');
  if (!existsSync(folder) || !statSync(folder).isDirectory()) {
    console.error(`There is no folder ${folder}.`);
    process.exit(2);
  }
  await buildPage();
  for (const command of ['check', 'due', 'stats']) say(command, folder);
  const { url } = await serve({ folder, page, project });
  console.log(`\nOpen this address in a browser on this machine; Ctrl+C ends it.\n\n  ${url}\n`);
}
