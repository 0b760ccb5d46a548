import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';

const vsix = join(resolve(import.meta.dirname, '../..'), 'dist/graftlog.vsix');

/** Names in a zip file, from its list at the end (APPNOTE.TXT 6.3, sections 4.3.12 and 4.3.16). */
function namesIn(zip: Buffer): string[] {
  const end = zip.lastIndexOf('PK\x05\x06', undefined, 'latin1');
  const names: string[] = [];
  let at = zip.readUInt32LE(end + 16);
  for (let count = zip.readUInt16LE(end + 10); count > 0; count--) {
    const [name, extra, comment] = [28, 30, 32].map((offset) => zip.readUInt16LE(at + offset)) as [
      number,
      number,
      number,
    ];
    names.push(zip.toString('utf8', at + 46, at + 46 + name));
    at += 46 + name + extra + comment;
  }
  return names;
}

// `npm test` packs before it tests; a single test file run by hand has nothing to look at.
describe.skipIf(!existsSync(vsix))('the package', () => {
  test('holds what the extension needs, and nothing else', () => {
    const files = namesIn(readFileSync(vsix)).map((name) => name.replace('extension/', ''));
    const allowed = [
      /^(\[Content_Types\]\.xml|extension\.vsixmanifest|package(\.nls)?\.json|readme\.md|changelog\.md|LICENSE\.txt)$/,
      /^dist\/(web\/)?(client|server)\.js$/,
      /^client\/images\/[\w-]+\.(png|svg)$/,
      /^client\/walkthrough\/\w+\.md$/,
      /^examples\/drumlin-lane\/(\d{4}\.graft|nursery\.graft|invented-station\.csv)$|^examples\/drumlin-lane\/\.vscode\/settings\.json$/,
      /^grammar\/(generated\/[\w.-]+\.json|pages\/[a-z-]+\.md|language-configuration\.json)$/,
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

  test('is under 1 MB', () => {
    expect(readFileSync(vsix).length).toBeLessThan(1_000_000);
  });
});
