// What the page needs of the extension: its manifest in words, and the files the manifest names.
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join, sep } from 'node:path';

/**
 * The manifest with its texts put in and without what only the build needs.
 * @param {string} project folder of package.json
 * @returns {Record<string, unknown>}
 */
export function manifestOf(project) {
  const texts = readJson(join(project, 'package.nls.json'));
  const { scripts, devDependencies, files, imports, bin, main, ...manifest } = readJson(join(project, 'package.json'));
  const said = JSON.stringify(manifest).replace(/"%([\w.]+)%"/g, (_, key) => JSON.stringify(texts[key] ?? key));
  return JSON.parse(said);
}

/**
 * The web bundles, every file that the contributions name and the pictures on those pages: these are sent and no others of the project.
 * @param {string} project
 * @returns {string[]}
 */
export function extensionFiles(project) {
  const contributed = JSON.stringify(readJson(join(project, 'package.json')).contributes);
  const named = [...contributed.matchAll(/"(?:\.\/)?((?:client|grammar)\/[\w./-]+\.(?:svg|png|json|md))"/g)];
  const files = ['dist/web/client.js', 'dist/web/server.js', ...named.map((match) => String(match[1]))];
  for (const page of files.filter((file) => file.endsWith('.md')))
    for (const [, picture] of readFileSync(join(project, page), 'utf8').matchAll(/!\[[^\]]*\]\(([^)]+)\)/g))
      files.push(join(dirname(page), String(picture)).replaceAll(sep, '/'));
  return [...new Set(files)].filter((file) => existsSync(join(project, file)));
}

/** @param {string} path */
const readJson = (path) => JSON.parse(readFileSync(path, 'utf8'));
