// `npm run -s graftlog -- ARGS`: the command line, in the folder npm was called from.

import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { resolve } from 'node:path';

const project = resolve(import.meta.dirname, '../..');
const cli = resolve(project, 'dist/cli.js');
if (!existsSync(cli))
  spawnSync(process.execPath, [resolve(project, 'esbuild.mjs')], {
    cwd: project,
    stdio: ['ignore', 'ignore', 'inherit'],
  });
process.chdir(process.env.INIT_CWD ?? process.cwd());
createRequire(import.meta.url)(cli);
