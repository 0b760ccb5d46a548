// Builds the workbench page, once for each state of its sources.
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';

export const project = resolve(import.meta.dirname, '../..');
export const page = join(project, 'dist/page');

/** @param {(sentence: string) => void} tell */
export async function buildPage(tell) {
  const hash = createHash('sha256').update(readFileSync(join(project, 'package-lock.json')));
  const sources = readdirSync(import.meta.dirname).filter(
    (name) => /\.(ts|html)$/.test(name) || name.startsWith('vite'),
  );
  for (const name of sources.sort()) hash.update(readFileSync(join(import.meta.dirname, name)));
  const state = hash.digest('hex');
  const stamp = join(page, 'built-from');
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === state) return;
  tell('Building the workbench page (once, about 15 seconds) …');
  const { build } = await import('vite');
  await build({ configFile: join(import.meta.dirname, 'vite.config.mjs') });
  writeFileSync(stamp, state);
}
