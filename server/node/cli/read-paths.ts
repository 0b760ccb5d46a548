import { readFileSync, statSync } from 'node:fs';
import { dirname, relative, resolve, sep } from 'node:path';
import { globSync } from 'tinyglobby';
import { decode, encodingNames } from '#server/workspace/decode.ts';
import { UsageError } from './options.ts';
import { whyNot } from './why-not.ts';

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
  /** What could not be read, and why, and what is not written in UTF-8: a sentence each. */
  readonly remarks: readonly string[];
}

/** The files of one log: each path a file or a folder, hidden folders and `node_modules` apart, links not followed. */
export function readPaths(paths: readonly string[], folder: string): ReadPaths {
  const wanted = paths.length > 0 ? paths : ['.'];
  const found = new Map<string, LogFile>();
  const unread: string[] = [];
  const foreign: string[] = [];
  const textOf = (file: string, bytes: Uint8Array) => {
    const { text, encoding } = decode(bytes);
    if (encoding !== 'utf-8')
      foreign.push(
        `${file === '-' ? 'The log' : file} is not UTF-8, it is read as ${encodingNames[encoding]}: save it as UTF-8.`,
      );
    return text;
  };
  for (const given of wanted) {
    if (given === '-') {
      found.set('-', { file: '-', path: '-', text: textOf('-', readFileSync(0)), folder });
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
          text: textOf(shown, readFileSync(file)),
          folder: isFolder ? path : dirname(path),
        });
      } catch (error) {
        unread.push(`${shown} can’t be read (${whyNot(error)})`);
      }
    }
  }
  if (found.size === 0 && unread.length === 0)
    throw new UsageError(`No graft log in ${wanted.join(', ')}: a log is a text file whose name ends in .graft.`);
  const rest = found.size > 0 ? '; the other files decide.' : '.';
  return { files: [...found.values()], remarks: [...unread.map((sentence) => sentence + rest), ...foreign] };
}
