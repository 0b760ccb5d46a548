import { readFileSync } from 'node:fs';
import { formatText } from '#grammar/format.ts';
import { countText } from '#server/engine/say.ts';
import { inert } from '#server/report/text-page.ts';
import { type Asked, UsageError } from './options.ts';
import { readPaths } from './read-paths.ts';
import { saveOver } from './save.ts';
import { whyNot } from './why-not.ts';

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
    if (!only) save(path, inert(file), tidy);
    process.stdout.write(`${only ? 'would change' : 'changed'} ${inert(file)}\n`);
  }
  if (changed === 0 && read > 0) process.stdout.write(`Nothing to tidy in ${countText(read, 'file')}.\n`);
  return only && changed > 0 ? 1 : 0;
}

function save(path: string, shown: string, text: string): void {
  try {
    saveOver(path, [text]);
  } catch (error) {
    throw new UsageError(`${shown} can’t be written (${whyNot(error)}); it stays as it was.`);
  }
}
