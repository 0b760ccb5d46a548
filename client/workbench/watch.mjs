// Tells the open pages what changed in the folder, whoever changed it.
import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { halfWritten } from './place.mjs';

/** As the workbench counts them. */
const changed = 0;
const added = 1;
const deleted = 2;

/** Looked at every so often rather than watched: works on network folders and eats no watches. */
const pause = 500;

/** @typedef {{ type: number, path: string }} Change */

/**
 * @param {string} root
 * @param {(changes: Change[]) => void} tell
 * @returns {() => void} ends it
 */
export function watchFolder(root, tell) {
  /** @type {Map<string, string> | undefined} */
  let before;
  let ended = false;
  /** @type {NodeJS.Timeout | undefined} */
  let timer;
  const look = async () => {
    const start = performance.now();
    const now = await marksOf(root);
    if (ended) return;
    const changes = before ? differences(before, now) : [];
    before = now;
    if (changes.length > 0) tell(changes);
    // A large or slow folder is looked at less often, so that looking never takes more than a tenth of the time.
    timer = setTimeout(look, Math.max(pause, 10 * (performance.now() - start)));
  };
  void look();
  return () => {
    ended = true;
    clearTimeout(timer);
  };
}

/**
 * @param {Map<string, string>} before
 * @param {Map<string, string>} now
 * @returns {Change[]}
 */
function differences(before, now) {
  /** @type {Change[]} */
  const changes = [];
  for (const [path, mark] of now) {
    const old = before.get(path);
    if (old === undefined) changes.push({ type: added, path });
    else if (old !== mark && mark !== 'folder') changes.push({ type: changed, path });
  }
  for (const path of before.keys()) if (!now.has(path)) changes.push({ type: deleted, path });
  return changes;
}

/**
 * A mark for each file and folder; hidden folders (but the editor's settings), `node_modules` and links are passed over.
 * @param {string} root
 */
async function marksOf(root) {
  /** @type {Map<string, string>} */
  const marks = new Map();
  const folders = ['/'];
  for (let folder = folders.pop(); folder !== undefined; folder = folders.pop()) {
    const entries = await readdir(join(root, folder), { withFileTypes: true }).catch(() => []);
    for (const entry of entries) {
      const path = folder + entry.name;
      if (entry.isDirectory()) {
        if ((entry.name.startsWith('.') && entry.name !== '.vscode') || entry.name === 'node_modules') continue;
        marks.set(path, 'folder');
        folders.push(`${path}/`);
      } else if (entry.isFile() && !entry.name.endsWith(halfWritten)) {
        const found = await stat(join(root, path)).catch(() => undefined);
        if (found) marks.set(path, `${found.ino} ${found.size} ${found.mtimeMs} ${found.ctimeMs}`);
      }
    }
  }
  return marks;
}
