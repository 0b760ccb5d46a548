import { resolve } from 'node:path';
import { UsageError } from './options.ts';
import { saveNew, saveOver } from './save.ts';
import { whyNot } from './why-not.ts';

/** Writes a result to a file; an older page of that name is replaced, a log, a sheet or anything else never. */
export function writeResult(out: string | boolean | undefined, text: string, example: string): string {
  if (typeof out !== 'string' || out === '') throw new UsageError(`--out names the file: --out ${example}.`);
  if (out === '-') {
    process.stdout.write(text);
    return out;
  }
  const path = resolve(out);
  if (path.endsWith('.graft')) throw new UsageError('--out would write over a log; a page ends in .html.');
  try {
    if (/\.html?$/i.test(path)) saveOver(path, [text]);
    else saveNew(path, [text]);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST') throw new UsageError(`${out} is there already and is no page: name another file for --out.`);
    throw new UsageError(`${out} can’t be written (${whyNot(error)}).`);
  }
  return out;
}
