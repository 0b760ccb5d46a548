import { readFileSync } from 'node:fs';
import { join } from 'node:path';

/**
 * The day a folder's settings compute for, as an example in the past has one.
 * @param {string} folder
 * @returns {string | undefined} ISO day
 */
export function folderDay(folder) {
  try {
    const text = readFileSync(join(folder, '.vscode/settings.json'), 'utf8');
    // Settings may hold comments, so the one value is looked for instead of parsing them.
    return /(?:^|[{,])\s*"graftlog\.today"\s*:\s*"(\d{4}-\d{2}-\d{2})"/m.exec(text)?.[1];
  } catch {
    return undefined;
  }
}
