import { dirname } from 'node:path';
import { Log } from '#server/engine/log.ts';
import type { Standing } from '#server/import/names.ts';
import { UsageError } from './options.ts';
import { type ReadPaths, readPaths } from './read-paths.ts';

/** The logs among which a new one will stand: those of its folder, which with it will be one log. */
export interface Beside {
  readonly log: Log;
  readonly standing: readonly Standing[];
  /** What could not be read, or is no UTF-8, in a sentence each. */
  readonly remarks: readonly string[];
}

/** @param out the new log; without one nothing is looked at */
export function logsBeside(out: string | undefined): Beside {
  const log = new Log();
  if (out === undefined) return { log, standing: [], remarks: [] };
  const { files, remarks } = readFolder(dirname(out));
  for (const { file, text } of files) log.addFile(file, text);
  const standing = [...log.names.allDeclared()].map(({ kind, name, entry }) => ({
    kind,
    name,
    file: entry.file,
    line: (log.document(entry.file)?.lineOf(entry) ?? 0) + 1,
  }));
  return { log, standing, remarks };
}

function readFolder(folder: string): ReadPaths {
  try {
    return readPaths([folder], process.cwd());
  } catch (error) {
    // no log stands there yet, or no folder: then nothing can clash
    if (error instanceof UsageError) return { files: [], remarks: [] };
    throw error;
  }
}
