// `npm start [-- FOLDER]`: the workbench on a folder of logs, and what the command line says of it.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { statSync } from 'node:fs';
import { join, relative, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { buildPage, page, project } from './build-page.mjs';
import { folderDay } from './folder-day.mjs';
import { serve } from './serve.mjs';

const called = process.env.INIT_CWD ?? process.cwd();
const { positionals, values } = asked();
const folder = positionals[0] ? resolve(called, positionals[0]) : join(project, 'examples/drumlin-lane');
if (!statSync(folder, { throwIfNoEntry: false })?.isDirectory()) leave(`There is no folder ${folder}.`);
const port = Number(values.port ?? portOf(folder));
if (!Number.isInteger(port) || port < 0 || port > 65_535) leave(`A port is a whole number, and not ${values.port}.`);

await buildPage(console.log);
// where there is no log yet, that is said once
if (say('check', ['--fail-on', 'never']) === 0) {
  say('due');
  say('stats');
}
const { address, close } = await serve({ folder, page, project, port });
console.log(
  `\n${folder} is open at\n\n  ${address}\n\nfor a browser on this machine. Ctrl+C ends it; what is unsaved stays in the browser.`,
);
for (const signal of ['SIGINT', 'SIGTERM'])
  process.on(signal, () => {
    close();
    process.exit(0);
  });

/**
 * @param {string} command
 * @param {string[]} more
 */
function say(command, more = []) {
  const day = folderDay(folder);
  const shown = relative(called, folder) || '.';
  const args = [command, shown, ...(day ? ['--on', day] : [])];
  console.log(`\n$ graftlog ${args.join(' ')}\n`);
  const line = [join(project, 'dist/cli.js'), ...args, ...more];
  return spawnSync(process.execPath, line, { stdio: 'inherit', cwd: called }).status;
}

/**
 * Each folder has a port of its own, as a browser keeps unsaved text by address.
 * @param {string} path
 */
function portOf(path) {
  return 4800 + (createHash('sha256').update(path).digest().readUInt16BE(0) % 900);
}

function asked() {
  try {
    return parseArgs({ allowPositionals: true, options: { port: { type: 'string' } } });
  } catch {
    return leave('Usage: npm start [-- [FOLDER] [--port NUMBER]]');
  }
}

/**
 * @param {string} sentence
 * @returns {never}
 */
function leave(sentence) {
  console.error(sentence);
  process.exit(2);
}
