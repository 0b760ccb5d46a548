// All bundles of the product: extension (desktop, web), language server (process, worker), command line.
// `--extension`: those of the .vsix alone; `--command-line`: that of the npm package alone.
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { build } from 'esbuild';
import { thirdPartyNotices } from './client/packing/third-party-notices.mjs';

const { version } = JSON.parse(readFileSync('package.json', 'utf8'));
const shared = {
  bundle: true,
  metafile: true,
  minify: process.argv.includes('--minify'),
  legalComments: 'none',
  logLevel: 'warning',
  loader: { '.graft': 'text', '.md': 'text', '.css': 'text' },
  define: { 'process.env.GRAFTLOG_VERSION': JSON.stringify(version) },
};
// A bundle in CommonJS has no `import.meta`; a library that finds its own place by it is told the bundle's.
const place = "const bundleUrl = require('node:url').pathToFileURL(__filename).href;";
const node = {
  ...shared,
  platform: 'node',
  format: 'cjs',
  target: 'node20',
  define: { ...shared.define, 'import.meta.url': 'bundleUrl' },
  banner: { js: place },
};
const web = { ...shared, platform: 'browser', target: 'es2022', mainFields: ['browser', 'module', 'main'] };
const clients = [
  { ...node, entryPoints: ['client/desktop.ts'], outfile: 'dist/client.js', external: ['vscode'] },
  { ...web, format: 'cjs', entryPoints: ['client/web.ts'], outfile: 'dist/web/client.js', external: ['vscode'] },
];
const commandLine = {
  ...node,
  entryPoints: ['server/node/cli/main.ts'],
  outfile: 'dist/cli.js',
  banner: { js: `#!/usr/bin/env node\n${place}` },
};

/*
 * The server's core is the greater part of the package, and lies in it once: in the worker's file, wrapped as a function
 * of the protocol's library. The worker calls it with the browser's edition of that library; to Node the file is a module
 * that gives the function, which the process calls with its own.
 */
const coreParts = ['server/lsp/server.ts', 'server/workspace/today.ts', 'server/workspace/decode.ts'];
const protocol = 'vscode-languageserver';

/** Puts the core, wherever it comes from, in the place of its parts. */
const coreFrom = (edition, core) => ({
  name: 'core',
  setup(bundle) {
    const part = new RegExp(`^#(${coreParts.join('|').replaceAll('.', '\\.')})$`);
    bundle.onResolve({ filter: part }, () => ({ path: 'core', namespace: 'core' }));
    bundle.onLoad({ filter: /.*/, namespace: 'core' }, () => ({
      contents: `import * as protocol from '${edition}'; module.exports = ${core}(() => protocol);`,
      resolveDir: '.',
    }));
  },
});

/** The core's own packages are in the bundle that is written to nowhere. */
async function buildServers() {
  const core = await build({
    ...web,
    stdin: { contents: coreParts.map((part) => `export * from '#${part}';`).join('\n'), resolveDir: '.' },
    format: 'cjs',
    external: [protocol],
    write: false,
  });
  // in parentheses, so that V8 reads it once: it would skim a function that may never be called, and read it again at the call
  const wrapped = `(function (require) { const module = { exports: {} }, exports = module.exports; ${core.outputFiles[0].text}\nreturn module.exports; })`;
  const worker = await build({
    ...web,
    format: 'iife',
    entryPoints: ['server/web/worker.ts'],
    outfile: 'dist/web/server.js',
    plugins: [coreFrom(`${protocol}/browser`, 'graftlogCore')],
    banner: { js: "((graftlogCore) => { if (typeof module === 'object') { module.exports = graftlogCore; return; }" },
    footer: { js: `})(${wrapped});` },
  });
  const server = await build({
    ...node,
    entryPoints: ['server/node/stdio.ts'],
    outfile: 'dist/server.js',
    external: ['./web/server.js'],
    plugins: [coreFrom(`${protocol}/node`, "require('./web/server.js')")],
  });
  return [core, worker, server];
}

const only = ['--extension', '--command-line'].find((one) => process.argv.includes(one));
// The packer of the .vsix takes all that lies there.
if (only === '--extension') rmSync(commandLine.outfile, { force: true });
const building = [];
if (only !== '--command-line') building.push(...clients.map((client) => build(client)), buildServers());
if (only !== '--extension') building.push(build(commandLine));
const built = await Promise.allSettled(building);
// esbuild has said why.
if (built.some((bundle) => bundle.status === 'rejected')) process.exit(1);
writeFileSync(
  'dist/third-party-notices.txt',
  thirdPartyNotices(built.flatMap(({ value }) => value).map(({ metafile }) => metafile)),
);
