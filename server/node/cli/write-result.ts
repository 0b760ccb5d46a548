import { closeSync, openSync, writeSync } from 'node:fs';
import { resolve } from 'node:path';
import { UsageError } from './options.ts';

/** Writes a result to a file; an older page of that name is replaced, a log never. */
export function writeResult(out: string | boolean | undefined, text: string, example: string): string {
  if (typeof out !== 'string' || out === '') throw new UsageError(`--out names the file: --out ${example}.`);
  if (out === '-') {
    process.stdout.write(text);
    return out;
  }
  const path = resolve(out);
  if (path.endsWith('.graft')) throw new UsageError('--out would write over a log; a page ends in .html.');
  let file: number;
  try {
    file = openSync(path, 'w');
  } catch (error) {
    throw new UsageError(`${out} can’t be written (${(error as NodeJS.ErrnoException).code ?? 'no reason given'}).`);
  }
  try {
    writeSync(file, text);
  } finally {
    closeSync(file);
  }
  return out;
}
