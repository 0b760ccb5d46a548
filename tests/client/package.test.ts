import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';

const project = resolve(import.meta.dirname, '../..');
const vsix = join(project, 'dist/graftlog.vsix');

/** Bytes a bundle may have, a twentieth above what it had when this was last looked at. */
const budgets: readonly (readonly [string, number])[] = [
  ['dist/client.js', 485_000],
  ['dist/server.js', 245_000],
  ['dist/web/client.js', 450_000],
  ['dist/web/server.js', 1_240_000],
];

/** Files in a zip file with their bytes once unpacked, from its list at the end (APPNOTE.TXT 6.3, sections 4.3.12 and 4.3.16). */
function sizesIn(zip: Buffer): Map<string, number> {
  const end = zip.lastIndexOf('PK\x05\x06', undefined, 'latin1');
  const sizes = new Map<string, number>();
  let at = zip.readUInt32LE(end + 16);
  for (let count = zip.readUInt16LE(end + 10); count > 0; count--) {
    const [name, extra, comment] = [28, 30, 32].map((offset) => zip.readUInt16LE(at + offset)) as [
      number,
      number,
      number,
    ];
    sizes.set(zip.toString('utf8', at + 46, at + 46 + name).replace('extension/', ''), zip.readUInt32LE(at + 24));
    at += 46 + name + extra + comment;
  }
  return sizes;
}

// `npm test` packs before it tests; a single test file run by hand has nothing to look at.
describe.skipIf(!existsSync(vsix))('the package', () => {
  test('holds what the extension needs, and nothing else', () => {
    const files = [...sizesIn(readFileSync(vsix)).keys()];
    const allowed = [
      /^(\[Content_Types\]\.xml|extension\.vsixmanifest|package(\.nls)?\.json|readme\.md|changelog\.md|LICENSE\.txt)$/,
      /^dist\/((web\/)?(client|server)\.js|third-party-notices\.txt)$/,
      /^client\/images\/[\w-]+\.(png|svg)$/,
      /^client\/walkthrough\/\w+\.md$/,
      /^examples\/guide\/[a-z]+\.md$/,
      /^examples\/drumlin-lane\/(\d{4}\.graft|nursery\.graft|invented-station\.csv)$|^examples\/drumlin-lane\/\.vscode\/settings\.json$/,
      /^grammar\/(generated\/(graft\.tmLanguage\.json|reference\.md)|pages\/[a-z-]+\.md|language-configuration\.json)$/,
      /^server\/engine\/practice\.graft$/,
    ];
    expect(files.filter((name) => !allowed.some((shape) => shape.test(name)))).toEqual([]);
    const needed = ['dist/client.js', 'dist/server.js', 'dist/web/client.js', 'dist/web/server.js', 'LICENSE.txt'];
    expect(files).toEqual(
      expect.arrayContaining([
        ...needed,
        'package.json',
        'readme.md',
        'client/images/icon.png',
        'examples/drumlin-lane/.vscode/settings.json',
      ]),
    );
  });

  test('has what its README leads to', () => {
    const files = [...sizesIn(readFileSync(vsix)).keys()];
    const links = [...readFileSync(join(project, 'README.md'), 'utf8').matchAll(/\]\((?!#|\w+:)([^)#]+)/g)];
    expect(links.length).toBeGreaterThan(3);
    expect(links.map(([, to]) => String(to)).filter((to) => !files.some((file) => file.startsWith(to)))).toEqual([]);
  });

  test('keeps to its size: under 1 MB in all, and each bundle under its own', () => {
    expect(readFileSync(vsix).length).toBeLessThan(950_000);
    const sizes = sizesIn(readFileSync(vsix));
    for (const [file, most] of budgets) expect(sizes.get(file), file).toBeLessThan(most);
  });
});
