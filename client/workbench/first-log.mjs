import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';

const minute = 60_000;

/**
 * The log to open first: the one written to last, as work goes on there; in a fresh copy, where all are of the same
 * minute, that of the latest year in its name, else the largest.
 * @param {string} folder
 * @returns {Promise<string | null>} its name in the folder
 */
export async function firstLog(folder) {
  const names = (await readdir(folder)).filter((name) => name.endsWith('.graft') && !name.startsWith('.'));
  const logs = await Promise.all(
    names.sort().map(async (name) => {
      const { mtimeMs, size } = await stat(join(folder, name));
      const year = Number(/(?:19|20)\d\d/.exec(name)?.[0] ?? 0);
      return { name, minutes: Math.floor(mtimeMs / minute), year, size };
    }),
  );
  logs.sort((a, b) => b.minutes - a.minutes || b.year - a.year || b.size - a.size);
  return logs[0]?.name ?? null;
}
