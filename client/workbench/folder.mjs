// The grower's folder, and nothing outside it.
import { randomBytes } from 'node:crypto';
import { promises as fs } from 'node:fs';
import { dirname, join, resolve, sep } from 'node:path';

export class Refused extends Error {
  constructor(status, message) {
    super(message);
    this.status = status;
  }
}

/** A path of the page to one on disk. Refuses whatever is, or leads, outside the folder. */
export async function within(root, path) {
  if (
    typeof path !== 'string' ||
    !path.startsWith('/') ||
    path.includes('\0') ||
    path.includes('\\') ||
    path.split('/').some((part) => part === '.' || part === '..')
  )
    throw new Refused(403, 'No such path in this folder.');
  const full = resolve(root, `.${path}`);
  const real = await realOf(full);
  const home = await fs.realpath(root);
  if (real !== home && !real.startsWith(home + sep)) throw new Refused(403, 'This path leads out of the folder.');
  return full;
}

/** Where a path really is: its own real path, or that of its nearest parent that exists. A link to nowhere is refused. */
async function realOf(path) {
  try {
    return await fs.realpath(path);
  } catch (error) {
    if (error.code !== 'ENOENT' && error.code !== 'ENOTDIR') throw error;
    const dangling = await fs.lstat(path).then(
      (stat) => stat.isSymbolicLink(),
      () => false,
    );
    if (dangling) throw new Refused(403, 'This link leads nowhere.');
    return join(await realOf(dirname(path)), path.slice(dirname(path).length + 1));
  }
}

const hidden = (name) => name.endsWith('.graft-saving');

export async function stat(root, path) {
  const found = await fs.stat(await within(root, path));
  return {
    type: found.isDirectory() ? 'folder' : 'file',
    size: found.size,
    mtime: found.mtimeMs,
    ctime: found.birthtimeMs,
  };
}

export async function list(root, path) {
  const folder = await within(root, path);
  const entries = await fs.readdir(folder, { withFileTypes: true });
  return entries
    .filter((entry) => !hidden(entry.name) && (entry.isFile() || entry.isDirectory()))
    .map((entry) => [entry.name, entry.isDirectory() ? 'folder' : 'file']);
}

export const read = async (root, path) => fs.readFile(await within(root, path));

/** Written beside and renamed over, so that a file is the old one or the new one, never half of it. */
export async function write(root, path, data, { create, overwrite }) {
  const full = await notRoot(root, path);
  const old = await fs.stat(full).catch(() => undefined);
  if (old && !overwrite) throw new Refused(409, 'There is a file of this name.');
  if (!old && !create) throw new Refused(404, 'There is no file of this name.');
  const beside = `${full}.${randomBytes(6).toString('hex')}.graft-saving`;
  const file = await fs.open(beside, 'wx', old ? old.mode & 0o777 : 0o644);
  try {
    await file.writeFile(data);
    await file.sync();
    await file.close();
    await fs.rename(beside, full);
  } catch (error) {
    await file.close().catch(() => {});
    await fs.rm(beside, { force: true });
    throw error;
  }
}

export const mkdir = async (root, path) => void (await fs.mkdir(await notRoot(root, path), { recursive: true }));
export const remove = async (root, path) => fs.rm(await notRoot(root, path), { recursive: true });

export async function rename(root, path, to, overwrite) {
  const [from, target] = [await notRoot(root, path), await notRoot(root, to)];
  if (
    !overwrite &&
    (await fs.stat(target).then(
      () => true,
      () => false,
    ))
  )
    throw new Refused(409, 'There is a file of this name.');
  await fs.rename(from, target);
}

async function notRoot(root, path) {
  const full = await within(root, path);
  if (resolve(full) === resolve(root)) throw new Refused(403, 'The folder itself stays.');
  return full;
}

/** Every file with what tells that it changed; hidden folders, links and node_modules apart. */
export async function snapshot(root) {
  const found = new Map();
  const walk = async (folder, path) => {
    for (const entry of await fs.readdir(folder, { withFileTypes: true }).catch(() => [])) {
      if (entry.isSymbolicLink() || hidden(entry.name) || entry.name === 'node_modules') continue;
      const here = `${path}/${entry.name}`;
      if (entry.isDirectory() && !entry.name.startsWith('.')) await walk(join(folder, entry.name), here);
      else if (entry.isFile()) {
        const state = await fs.stat(join(folder, entry.name)).catch(() => undefined);
        if (state) found.set(here, `${state.mtimeMs} ${state.size} ${state.ino}`);
      }
    }
  };
  await walk(root, '');
  return found;
}

export function difference(before, after) {
  const changes = [];
  for (const [path, state] of after)
    if (before.get(path) !== state) changes.push({ kind: before.has(path) ? 'changed' : 'added', path });
  for (const path of before.keys()) if (!after.has(path)) changes.push({ kind: 'deleted', path });
  return changes;
}
