import { lstat, readFile } from 'node:fs/promises';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { glob } from 'tinyglobby';
import { decode } from '#server/workspace/decode.ts';
import type { Host } from '#server/workspace/host.ts';
import { readNamedFile } from './named-file.ts';
import { dayInZone } from './today.ts';

/** The folder on this machine's disk. */
export const disk: Host = {
  async list(root) {
    if (!root.startsWith('file:')) return [];
    const files = await glob('**/*.graft', {
      cwd: fileURLToPath(root),
      dot: false,
      ignore: ['**/node_modules/**'],
      followSymbolicLinks: false,
      absolute: true,
    });
    return files.sort().map((file) => pathToFileURL(file).href);
  },
  async read(uri) {
    try {
      const path = fileURLToPath(uri);
      // what the list passes over isn't read when it changes either: a link may lead anywhere, a pipe never ends
      return (await lstat(path)).isFile() ? decode(await readFile(path)).text : undefined;
    } catch {
      return undefined;
    }
  },
  async readNamed(root, uri, most) {
    if (!root.startsWith('file:')) return { unread: 'unreadable' };
    return readNamedFile(fileURLToPath(root), fileURLToPath(uri), most);
  },
  today: dayInZone,
  now: () => performance.now(),
  later(milliseconds, run) {
    const waiting = setTimeout(run, milliseconds);
    return () => clearTimeout(waiting);
  },
  pause: () => new Promise((done) => setImmediate(done)),
};
