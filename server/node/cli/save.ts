import { randomBytes } from 'node:crypto';
import {
  closeSync,
  fsyncSync,
  linkSync,
  lstatSync,
  openSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';

type Pieces = Iterable<string | Uint8Array>;

/*
 * A file is written beside its place, forced to the disk, and then takes its name. Whatever ends the program in between
 * (a kill, a full disk, a power cut) leaves the old file or none, at most with a `.tmp` beside it, never half of one.
 */

/** The new text of a file; a link is followed to the file it leads to. Throws what the disk says. */
export function saveOver(path: string, pieces: Pieces): void {
  const before = statSync(path, { throwIfNoEntry: false });
  // a folder, a pipe or a device keeps its name
  if (before && !before.isFile()) throw Object.assign(new Error(`${path} is no file`), { code: 'EEXIST' });
  const real = before ? realpathSync(path) : path;
  const half = written(real, pieces, before ? before.mode & 0o777 : undefined);
  taking(half, () => renameSync(half, real));
}

/** A file where none is: fails with EEXIST where something stands, even if it came while this was written. */
export function saveNew(path: string, pieces: Pieces): void {
  if (lstatSync(path, { throwIfNoEntry: false }))
    throw Object.assign(new Error(`${path} is there`), { code: 'EEXIST' });
  const half = written(path, pieces);
  taking(half, () => {
    try {
      linkSync(half, path);
      rmSync(half, { force: true });
    } catch (error) {
      const { code = '' } = error as NodeJS.ErrnoException;
      // a stick, or a folder on another machine, may know no second names
      if (!['EPERM', 'ENOTSUP', 'ENOSYS', 'EOPNOTSUPP'].includes(code)) throw error;
      renameSync(half, path);
    }
  });
}

function written(path: string, pieces: Pieces, mode?: number): string {
  const half = `${path}.${randomBytes(6).toString('hex')}.tmp`;
  const file = openSync(half, 'wx', mode);
  taking(half, () => {
    try {
      for (const piece of pieces) writeFileSync(file, piece);
      fsyncSync(file);
    } finally {
      closeSync(file);
    }
  });
  return half;
}

function taking(half: string, step: () => void): void {
  try {
    step();
  } catch (error) {
    rmSync(half, { force: true });
    throw error;
  }
}
