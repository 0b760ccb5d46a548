// What the page does with files: each function answers one request.
import { randomBytes } from 'node:crypto';
import { lstat, mkdir, open, readdir, readFile, rename, rm, stat, unlink } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { exists, halfWritten, placeOf, Refusal } from './place.mjs';

/** As the workbench counts them. */
const kinds = { file: 1, folder: 2, link: 64 };

/**
 * @typedef {{ type: number, ctime: number, mtime: number, size: number, version: string }} Stat
 * `version` changes with every change to the file, also one that puts an old time back.
 */

/**
 * @param {string} root
 * @param {string | null} path
 * @returns {Promise<Stat>}
 */
export async function statOf(root, path) {
  const place = await placeOf(root, path);
  const [own, found] = [await lstat(await placeOf(root, path, { itself: true })), await stat(place, { bigint: true })];
  const type = (found.isDirectory() ? kinds.folder : kinds.file) | (own.isSymbolicLink() ? kinds.link : 0);
  // The later of the two times: a copy put back with its old time is still a change.
  const mtime = Math.max(Number(found.mtimeMs), Number(found.ctimeMs));
  return { type, ctime: Number(found.birthtimeMs), mtime, size: Number(found.size), version: versionOf(found) };
}

/** @param {import('node:fs').BigIntStats} found */
const versionOf = (found) => `${found.ino}-${found.size}-${found.mtimeNs}-${found.ctimeNs}`;

/**
 * @param {string} root
 * @param {string | null} path
 * @returns {Promise<[string, number][]>} names with their kinds; links that lead out of the folder are left out
 */
export async function listOf(root, path) {
  const place = await placeOf(root, path);
  const names = (await readdir(place)).filter((name) => !name.endsWith(halfWritten));
  const rows = await Promise.all(
    names.map(async (name) => {
      try {
        const { type } = await statOf(root, `${path === '/' ? '' : path}/${name}`);
        return /** @type {[string, number]} */ ([name, type]);
      } catch {
        return undefined;
      }
    }),
  );
  return rows.filter((row) => row !== undefined);
}

/**
 * @param {string} root
 * @param {string | null} path
 */
export async function readOf(root, path) {
  return readFile(await placeOf(root, path));
}

/**
 * Writes beside the file, forces it to the disk, then takes the file's name: a power cut leaves the old text or the
 * new, never half of one. Refused (412) where the file is not the one that the page has seen.
 * Between the last look and the renaming another program could still write; no call closes that gap.
 * @param {string} root
 * @param {string | null} path
 * @param {Uint8Array} text
 * @param {{ version: string | null }} seen version of the file as the page last saw it, null if there was none
 */
export async function write(root, path, text, seen) {
  const place = await placeOf(root, path, { change: true });
  const before = await unchanged(place, seen.version);
  const half = join(dirname(place), `.${basename(place)}.${randomBytes(6).toString('hex')}${halfWritten}`);
  const file = await open(half, 'wx', before ? Number(before.mode) & 0o777 : 0o666);
  try {
    try {
      await file.writeFile(text);
      await file.sync();
    } finally {
      await file.close();
    }
    await unchanged(place, seen.version);
    await rename(half, place);
  } catch (error) {
    await unlink(half).catch(() => {});
    throw error;
  }
  await syncFolder(dirname(place));
}

/**
 * @param {string} place
 * @param {string | null} version
 */
async function unchanged(place, version) {
  const found = await stat(place, { bigint: true }).catch(() => undefined);
  if (found?.isDirectory()) throw new Refusal(409, 'There is a folder of that name.');
  if (version === null && found) throw new Refusal(412, 'There is a file of that name meanwhile.');
  if (version !== null && (!found || versionOf(found) !== version))
    throw new Refusal(412, 'The file was changed on the disk meanwhile.');
  return found;
}

/**
 * The new name itself is on the disk only then; some systems can't sync a folder and do it by themselves.
 * @param {string} folder
 */
async function syncFolder(folder) {
  const handle = await open(folder, 'r').catch(() => undefined);
  await handle?.sync().catch(() => {});
  await handle?.close();
}

/**
 * @param {string} root
 * @param {string | null} path
 */
export async function makeFolder(root, path) {
  await mkdir(await placeOf(root, path, { change: true }));
}

/**
 * @param {string} root
 * @param {string | null} path
 * @param {boolean} withContents
 */
export async function remove(root, path, withContents) {
  const place = await placeOf(root, path, { change: true, itself: true });
  const found = await lstat(place);
  if (!found.isDirectory()) await unlink(place);
  else if (withContents) await rm(place, { recursive: true });
  else throw new Refusal(409, 'The folder is not empty.');
}

/**
 * @param {string} root
 * @param {string | null} path
 * @param {string | null} to
 * @param {boolean} over an existing file may be replaced: the page has asked
 */
export async function move(root, path, to, over) {
  const from = await placeOf(root, path, { change: true, itself: true });
  const place = await placeOf(root, to, { change: true, itself: true });
  await lstat(from);
  // On a disk that doesn't tell K26 from k26 the new name may be the same file.
  if (!over && (await exists(place)) && !(await sameFile(from, place)))
    throw new Refusal(409, 'There is a file of that name.');
  await rename(from, place);
}

/**
 * @param {string} one
 * @param {string} other
 */
async function sameFile(one, other) {
  const [a, b] = await Promise.all([lstat(one, { bigint: true }), lstat(other, { bigint: true })]);
  return a.ino === b.ino && a.dev === b.dev && one.toLowerCase() === other.toLowerCase();
}
