// All bundles of the product: extension (desktop, web), language server (process, worker), command line.
import { build } from 'esbuild';

const minify = process.argv.includes('--minify');
const text = { '.graft': 'text', '.md': 'text', '.css': 'text' };
const shared = { bundle: true, minify, sourcemap: false, legalComments: 'none', loader: text, logLevel: 'warning' };
const node = { ...shared, platform: 'node', format: 'cjs', target: 'node20' };
const web = { ...shared, platform: 'browser', target: 'es2022', mainFields: ['browser', 'module', 'main'] };

await Promise.all([
  build({ ...node, entryPoints: ['client/desktop.ts'], outfile: 'dist/client.js', external: ['vscode'] }),
  build({ ...node, entryPoints: ['server/node/stdio.ts'], outfile: 'dist/server.js' }),
  build({
    ...node,
    entryPoints: ['server/node/cli/main.ts'],
    outfile: 'dist/cli.js',
    banner: { js: '#!/usr/bin/env node' },
  }),
  build({ ...web, format: 'cjs', entryPoints: ['client/web.ts'], outfile: 'dist/web/client.js', external: ['vscode'] }),
  build({ ...web, format: 'iife', entryPoints: ['server/web/worker.ts'], outfile: 'dist/web/server.js' }),
]);
