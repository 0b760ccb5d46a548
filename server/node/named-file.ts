import { constants } from 'node:fs';
import { type FileHandle, open, realpath } from 'node:fs/promises';
import { isAbsolute, relative, sep } from 'node:path';
import type { WeatherText } from '#server/engine/station-lines.ts';
import { decode } from '#server/workspace/decode.ts';

/**
 * A file that a log names: links are followed to their end first, and what then lies outside the folder stays closed.
 * Only files are opened: a pipe or a device would never end.
 */
export async function readNamedFile(folder: string, path: string, most: number): Promise<WeatherText> {
  if (!isInside(folder, path)) return { unread: 'outside' };
  let handle: FileHandle | undefined;
  try {
    const [root, real] = [await realpath(folder), await realpath(path)];
    if (!isInside(root, real)) return { unread: 'outside' };
    // the real name is no link; if it has become one meanwhile it isn't opened
    handle = await open(real, constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0) | (constants.O_NONBLOCK ?? 0));
    const found = await handle.stat();
    if (!found.isFile()) return { unread: 'unreadable' };
    if (found.size > most) return { unread: 'large' };
    return { text: decode(await handle.readFile()).text };
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    return { unread: code === 'ENOENT' || code === 'ENOTDIR' ? 'missing' : 'unreadable' };
  } finally {
    await handle?.close();
  }
}

function isInside(folder: string, path: string): boolean {
  const way = relative(folder, path);
  return way !== '' && way !== '..' && !way.startsWith(`..${sep}`) && !isAbsolute(way);
}
