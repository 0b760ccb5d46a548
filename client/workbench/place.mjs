// Paths the page may name: inside the folder that was opened, and nowhere else.
import { lstat, realpath } from 'node:fs/promises';
import { basename, dirname, join, resolve, sep } from 'node:path';

/** An answer other than 200, with its reason in a sentence. */
export class Refusal extends Error {
  /**
   * @param {number} status
   * @param {string} message
   */
  constructor(status, message) {
    super(message);
    this.status = status;
  }
}

/** Names of half-written saves; they lie beside the file until they take its name. */
export const halfWritten = '.graftlog-half';

/**
 * Where on disk `path` lies. Links inside the folder are followed, those that lead out of it are refused.
 * @param {string} root the folder, as `realpath` gives it
 * @param {string | null} path begins with `/`, the folder itself is `/`
 * @param {{ change?: boolean, itself?: boolean }} how change: the folder itself may not be meant;
 *   itself: the last part is not followed if it is a link (delete and rename mean the link)
 * @returns {Promise<string>}
 */
export async function placeOf(root, path, { change = false, itself = false } = {}) {
  const plain = checkedParts(path);
  // Not join(root, path): join('/log', '/') is '/log/', which is neither the folder nor outside of it.
  const place = resolve(root, `.${plain}`);
  if (place === root) {
    if (change) throw new Refusal(403, 'The folder itself is not changed from here.');
    return root;
  }
  if (itself) return join(await realOf(root, dirname(place)), basename(place));
  return realOf(root, place);
}

/** @param {string | null} path */
function checkedParts(path) {
  if (path === null || !path.startsWith('/')) throw new Refusal(403, 'A path begins with a slash.');
  if (path.includes('\0') || path.includes('\\')) throw new Refusal(403, 'A path holds no NUL and no backslash.');
  const parts = path.split('/').filter((part) => part !== '');
  if (parts.some((part) => part === '.' || part === '..')) throw outside();
  // On Windows a colon names another drive or a hidden stream.
  if (process.platform === 'win32' && parts.some((part) => part.includes(':')))
    throw new Refusal(403, 'A file name holds no colon here.');
  if (parts.at(-1)?.endsWith(halfWritten)) throw new Refusal(403, 'Half-written saves are not opened.');
  return `/${parts.join('/')}`;
}

/**
 * The nearest part that exists decides, so that a new file in a linked folder is judged by where it would come to lie.
 * @param {string} root
 * @param {string} place
 * @returns {Promise<string>}
 */
async function realOf(root, place) {
  try {
    const real = await realpath(place);
    if (real !== root && !isInside(root, real)) throw outside();
    return real;
  } catch (error) {
    if (/** @type {NodeJS.ErrnoException} */ (error).code !== 'ENOENT') throw error;
    if (await exists(place)) throw new Refusal(403, 'The link leads nowhere.');
    return join(await realOf(root, dirname(place)), basename(place));
  }
}

/** @param {string} place */
export const exists = (place) =>
  lstat(place).then(
    () => true,
    () => false,
  );

/**
 * @param {string} root
 * @param {string} place
 */
const isInside = (root, place) => place.startsWith(root.endsWith(sep) ? root : root + sep);

const outside = () => new Refusal(403, 'The path lies outside the folder that was opened.');
