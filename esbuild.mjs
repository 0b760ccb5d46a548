// All bundles of the product: extension (desktop, web), language server (process, worker), command line.
import { readFileSync } from 'node:fs';
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
// a bundle in CommonJS has no `import.meta`; a library that finds its own place by it is told the bundle's
const place = "const bundleUrl = require('node:url').pathToFileURL(__filename).href;";
const node = {
  ...shared,
  platform: 'node',
  format: 'cjs',
  target: 'node20',
  define: { 'import.meta.url': 'bundleUrl', 'process.env.GRAFTLOG_VERSION': JSON.stringify(version) },
  banner: { js: place },
};
const web = { ...shared, platform: 'browser', target: 'es2022', mainFields: ['browser', 'module', 'main'] };
const bundles = [
  { ...node, entryPoints: ['client/desktop.ts'], outfile: 'dist/client.js', external: ['vscode'] },
  { ...web, format: 'cjs', entryPoints: ['client/web.ts'], outfile: 'dist/web/client.js', external: ['vscode'] },
  { ...node, entryPoints: ['server/node/stdio.ts'], outfile: 'dist/server.js' },
  { ...web, format: 'iife', entryPoints: ['server/web/worker.ts'], outfile: 'dist/web/server.js' },
  {
    ...node,
    entryPoints: ['server/node/cli/main.ts'],
    outfile: 'dist/cli.js',
    banner: { js: `#!/usr/bin/env node\n${place}` },
  },
];

const built = await Promise.allSettled(bundles.map((bundle) => build(bundle)));
// esbuild has said why.
if (built.some((bundle) => bundle.status === 'rejected')) process.exit(1);
