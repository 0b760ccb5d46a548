// `npm run package:npm`: the command line as a package for npm, beside graftlog.vsix or in the folder named.
// One manifest has what both packages say of themselves; what only an editor reads of it stays out of this one.
import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';

const files = [
  'dist/cli.js',
  'dist/third-party-notices.txt',
  'grammar/generated',
  'grammar/language-configuration.json',
  'grammar/pages',
  'server/engine/practice.graft',
  'examples/drumlin-lane',
  'examples/guide',
  'client/images/editor.png',
  'CHANGELOG.md',
  'LICENSE',
  'README.md',
];
const project = join(import.meta.dirname, '../..');
const into = resolve(process.argv[2] ?? project);
const staged = join(project, 'dist/npm');

run(process.execPath, ['esbuild.mjs', '--minify', '--command-line']);
rmSync(staged, { recursive: true, force: true });
for (const file of files) cpSync(join(project, file), join(staged, file), { recursive: true });
writeFileSync(join(staged, 'package.json'), `${JSON.stringify(manifest(), null, 2)}\n`);
mkdirSync(into, { recursive: true });
run('npm', ['pack', staged, '--ignore-scripts', '--pack-destination', into]);

/** @returns {Record<string, unknown>} */
function manifest() {
  const { name, version, description, keywords, license, type, engines, bin } = readJson('package.json');
  const said = description.replace(/^%(.+)%$/, (_, key) => readJson('package.nls.json')[key]);
  return { name, version, description: said, keywords, license, type, engines: { node: engines.node }, bin };
}

/** @param {string} file */
function readJson(file) {
  return JSON.parse(readFileSync(join(project, file), 'utf8'));
}

/**
 * @param {string} command
 * @param {string[]} args
 */
function run(command, args) {
  const shell = process.platform === 'win32' && command === 'npm';
  const { status } = spawnSync(command, args, { cwd: project, shell, stdio: ['ignore', 'inherit', 'inherit'] });
  if (status !== 0) process.exit(status ?? 1);
}
