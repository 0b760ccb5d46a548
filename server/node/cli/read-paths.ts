import { readFileSync, statSync } from 'node:fs';
import { dirname, relative, resolve, sep } from 'node:path';
import { globSync } from 'tinyglobby';
import { encodingOf } from '#server/workspace/encoding.ts';
import { UsageError } from './options.ts';

export interface LogFile {
  /** Relative to the working folder, with `/`; `-` for standard input. */
  readonly file: string;
  readonly path: string;
  readonly text: string;
  /** The folder given, or the one the file lies in: files it names lie in there. */
  readonly folder: string;
}

export interface ReadPaths {
  readonly files: readonly LogFile[];
  /** What could not be read, and why, in a sentence each. */
  readonly unread: readonly string[];
}

/** The files of one log: each path a file or a folder, hidden folders and `node_modules` apart, links not followed. */
export function readPaths(paths: readonly string[], folder: string): ReadPaths {
  const wanted = paths.length > 0 ? paths : ['.'];
  const found = new Map<string, LogFile>();
  const unread: string[] = [];
  for (const given of wanted) {
    if (given === '-') {
      found.set('-', { file: '-', path: '-', text: decode(readFileSync(0)), folder });
      continue;
    }
    const path = resolve(folder, given);
    let isFolder: boolean;
    try {
      isFolder = statSync(path).isDirectory();
    } catch {
      throw new UsageError(`There is no file or folder ${given}.`);
    }
    const files = isFolder
      ? globSync('**/*.graft', {
          cwd: path,
          dot: false,
          ignore: ['**/node_modules/**'],
          followSymbolicLinks: false,
          absolute: true,
        })
      : [path];
    for (const file of files.sort()) {
      const shown = relative(folder, file).split(sep).join('/');
      if (found.has(shown)) continue;
      try {
        found.set(shown, {
          file: shown,
          path: file,
          text: decode(readFileSync(file)),
          folder: isFolder ? path : dirname(path),
        });
      } catch (error) {
        unread.push(
          `${shown} can’t be read (${(error as NodeJS.ErrnoException).code ?? 'no reason given'}); the other files decide.`,
        );
      }
    }
  }
  if (found.size === 0 && unread.length === 0)
    throw new UsageError(`No graft log in ${wanted.join(', ')}: a log is a text file whose name ends in .graft.`);
  return { files: [...found.values()], unread };
}

const decode = (bytes: Buffer): string => new TextDecoder(encodingOf(bytes)).decode(bytes);
