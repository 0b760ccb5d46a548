import { randomBytes } from 'node:crypto';
import { readFileSync, realpathSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { formatText } from '#grammar/format.ts';
import { countText } from '#server/engine/say.ts';
import { inert } from '#server/report/text-page.ts';
import type { Asked } from './options.ts';
import { readPaths } from './read-paths.ts';

/** Tidies layout in place; with `--check` nothing is written. `-` goes from standard input to standard output. */
export function format(asked: Asked): number {
  const { files, remarks } = readPaths(asked.paths, process.cwd());
  for (const sentence of remarks) process.stderr.write(`graftlog: ${inert(sentence)}\n`);
  const only = asked.values.check === true;
  let changed = 0;
  let read = 0;
  for (const { file, path, text } of files) {
    if (path === '-') {
      const tidy = formatText(text);
      if (!only) process.stdout.write(tidy);
      if (tidy !== text) changed++;
      continue;
    }
    const before = readFileSync(path);
    const text8 = before.toString('utf8');
    if (!Buffer.from(text8, 'utf8').equals(before)) {
      process.stderr.write(`graftlog: ${inert(file)} is not UTF-8 and stays as it is.\n`);
      continue;
    }
    read++;
    const tidy = formatText(text8);
    if (tidy === text8) continue;
    changed++;
    process.stdout.write(`${only ? 'would change' : 'changed'} ${inert(file)}\n`);
    if (!only) save(path, tidy);
  }
  if (changed === 0 && read > 0) process.stdout.write(`Nothing to tidy in ${countText(read, 'file')}.\n`);
  return only && changed > 0 ? 1 : 0;
}

/** Written beside and renamed over: the log is the old one or the new one, never half of it. */
function save(path: string, text: string): void {
  const real = realpathSync(path);
  const beside = `${real}.${randomBytes(6).toString('hex')}.tmp`;
  try {
    writeFileSync(beside, text, { flag: 'wx', mode: statSync(real).mode & 0o777 });
    renameSync(beside, real);
  } catch (error) {
    rmSync(beside, { force: true });
    throw error;
  }
}
