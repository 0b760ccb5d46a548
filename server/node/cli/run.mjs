// `npm run -s graftlog -- ARGS`: the built command line, in the folder npm was called from; built first where it is not.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { resolve } from 'node:path';

const project = resolve(import.meta.dirname, '../../..');
const cli = resolve(project, 'dist/cli.js');
if (!existsSync(cli)) {
  const built = spawnSync(process.execPath, ['esbuild.mjs'], { cwd: project, stdio: ['ignore', 'ignore', 'inherit'] });
  if (built.status !== 0) process.exit(2);
}
process.chdir(process.env.INIT_CWD ?? process.cwd());
createRequire(import.meta.url)(cli);
