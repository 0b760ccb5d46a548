// `npm test`: lint, types, bundles, tests of the code, tests in a browser; closes with the sum of them all.
// What follows `--` goes to vitest: `npm test -- -u` writes the generated files.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const project = resolve(import.meta.dirname, '..');
const reports = mkdtempSync(join(tmpdir(), 'graftlog-tests-'));
const sum = { passed: 0, failed: 0 };
/** What a test that is passed over lacks on this machine. */
const lacks = /** @type {const} */ ([
  [/packaged\.test/, 'no editor server (.ci/editor-server installs one), or no browser'],
  [/tests.editor/, 'no browser'],
  [/neovim\.test/, 'no nvim'],
  [/emacs\.test/, 'no emacs with eglot'],
]);

step('lint', ['node_modules/@biomejs/biome/bin/biome', 'check', '--error-on-warnings']);
step('knip', ['node_modules/knip/bin/knip.js', '--no-progress']);
step('types', ['node_modules/typescript/bin/tsc', '-b']);
// The packages first, as a packer leaves its own bundles only.
step('package', packing());
step('npm package', ['client/packing/npm-package.mjs', 'dist']);
step('bundles', ['esbuild.mjs', '--minify']);
const { version } = JSON.parse(readFileSync(join(project, 'package.json'), 'utf8'));
for (const one of ['.', `dist/graftlog-${version}.tgz`])
  step(`publint ${one}`, ['node_modules/publint/src/cli.js', 'run', one, '--strict']);
vitest('code');
// Without a browser or an editor server their tests fail under CI and are passed over elsewhere.
vitest('browser');

rmSync(reports, { recursive: true });
console.log(`\n${sum.passed} passed, ${sum.failed} failed`);
process.exitCode = sum.failed === 0 ? 0 : 1;

/**
 * One thing that is right or not.
 * @param {string} name
 * @param {string[]} args
 */
function step(name, args) {
  console.log(`\n${name} …`);
  const { status } = spawnSync(process.execPath, args, { cwd: project, stdio: ['ignore', 'inherit', 'inherit'] });
  if (status === 0) sum.passed += 1;
  else fail(name, `ended with ${status ?? 'a signal'}`);
}

/** As `npm run package` packs, with the package beside the bundles. */
function packing() {
  const { scripts } = JSON.parse(readFileSync(join(project, 'package.json'), 'utf8'));
  const [, ...args] = scripts.package.replace(/-o \S+$/, '-o dist/graftlog.vsix').split(' ');
  return ['node_modules/@vscode/vsce/vsce', ...args];
}

/** @param {string} part */
function vitest(part) {
  console.log(`\n${part} …`);
  const report = join(reports, `${part}.json`);
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${report}`];
  const args = ['node_modules/vitest/vitest.mjs', 'run', '--project', part, ...reporters, ...process.argv.slice(2)];
  const { status } = spawnSync(process.execPath, args, { cwd: project, stdio: ['ignore', 'inherit', 'inherit'] });
  if (!existsSync(report)) return fail(part, 'vitest gave no report');
  const { numPassedTests, numFailedTests, testResults } = JSON.parse(readFileSync(report, 'utf8'));
  // A file that could not be loaded, or made ready, has no test of its own that failed.
  const unready = testResults.filter(
    (file) => file.status === 'failed' && file.assertionResults.every((one) => one.status !== 'failed'),
  ).length;
  sum.passed += numPassedTests;
  sum.failed += numFailedTests + unready;
  const passedOver = testResults.filter((file) => file.assertionResults.some((one) => one.status === 'pending'));
  for (const reason of new Set(passedOver.map(({ name }) => lacks.find(([file]) => file.test(name))?.[1])))
    if (reason) console.log(`not run: ${reason}`);
  if (status !== 0 && numFailedTests + unready === 0) fail(part, 'vitest ended with an error outside of a test');
}

/**
 * @param {string} name
 * @param {string} reason
 */
function fail(name, reason) {
  sum.failed += 1;
  console.log(`${name} failed: ${reason}`);
}
