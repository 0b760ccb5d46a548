// All bundles of the product: extension (desktop, web), language server (process, worker), command line.
// `--extension`: those of the .vsix, which has no command line in it.
import { readFileSync, rmSync } from 'node:fs';
import { build } from 'esbuild';

const { version } = JSON.parse(readFileSync('package.json', 'utf8'));
const shared = {
  bundle: true,
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
const extension = [
  { ...node, entryPoints: ['client/desktop.ts'], outfile: 'dist/client.js', external: ['vscode'] },
  { ...web, format: 'cjs', entryPoints: ['client/web.ts'], outfile: 'dist/web/client.js', external: ['vscode'] },
  { ...node, entryPoints: ['server/node/stdio.ts'], outfile: 'dist/server.js' },
  { ...web, format: 'iife', entryPoints: ['server/web/worker.ts'], outfile: 'dist/web/server.js' },
];
const commandLine = {
  ...node,
  entryPoints: ['server/node/cli/main.ts'],
  outfile: 'dist/cli.js',
  banner: { js: `#!/usr/bin/env node\n${place}` },
};

const forExtension = process.argv.includes('--extension');
// The packer takes what lies there.
if (forExtension) rmSync(commandLine.outfile, { force: true });
const bundles = forExtension ? extension : [...extension, commandLine];
const built = await Promise.allSettled(bundles.map((bundle) => build(bundle)));
// esbuild has said why.
if (built.some((bundle) => bundle.status === 'rejected')) process.exit(1);
