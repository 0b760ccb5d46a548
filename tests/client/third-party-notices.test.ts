import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { build } from 'esbuild';
import { describe, expect, onTestFinished, test } from 'vitest';
import { thirdPartyNotices } from '../../client/packing/third-party-notices.mjs';

const project = resolve(import.meta.dirname, '../..');
const notices = join(project, 'dist/third-party-notices.txt');

/** Packages that the product's own code imports, as the sources say. */
function imported(): string[] {
  const sources = ['grammar', 'server', 'client']
    .flatMap((room) =>
      readdirSync(join(project, room), { recursive: true, encoding: 'utf8' }).map((name) => join(room, name)),
    )
    .filter((name) => name.endsWith('.ts') && !name.includes('workbench'));
  const found = sources.flatMap((name) =>
    [...readFileSync(join(project, name), 'utf8').matchAll(/^(?:import|export) (?!type\b)[^;']*?from '([^']+)'/gm)].map(
      ([, from]) => String(from),
    ),
  );
  return [...new Set(found.map((from) => /^(@[^/]+\/)?[^/]+/.exec(from)?.[0] ?? from))].filter(
    (name) => !/^(\.|#|node:|vscode$)/.test(name),
  );
}

describe.skipIf(!existsSync(notices))('licences of what is bundled', () => {
  const text = existsSync(notices) ? readFileSync(notices, 'utf8') : '';

  test('every package that the code imports stands there with its version and the text of its licence', () => {
    const names = imported();
    expect(names).toEqual(expect.arrayContaining(['chevrotain', 'vscode-languageclient', 'luxon', 'tinyglobby']));
    for (const name of names) {
      const folder = join(project, 'node_modules', name);
      const { version } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
      expect(text).toContain(`\n${name} ${version} (`);
      const file = readdirSync(folder).find((one) => /^licen[cs]e/i.test(one));
      const lines = readFileSync(join(folder, String(file)), 'utf8').split(/\r?\n/);
      for (const line of lines) expect(text).toContain(line.trim());
    }
  });

  test('so do those that come with them', () => {
    for (const name of ['lodash-es', '@chevrotain/gast', 'd3-array', 'vscode-jsonrpc', 'minimatch', 'semver'])
      expect(text).toMatch(new RegExp(`^${name} [\\d.]+ \\(`, 'm'));
  });

  test('code taken over from elsewhere keeps the notice that stands in its comment', () => {
    expect(text).toContain('long comment were part of the original implementation');
    expect(text).toContain('Use, modification and distribution are subject to the\nBoost Software License');
  });
});

describe('a package', () => {
  /** The notices of a program that uses a package of these files. */
  async function noticesOf(files: Record<string, string>): Promise<string> {
    const folder = mkdtempSync(join(tmpdir(), 'graftlog-notices-'));
    onTestFinished(() => rmSync(folder, { recursive: true }));
    mkdirSync(join(folder, 'node_modules/lent'), { recursive: true });
    for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, 'node_modules/lent', name), text);
    writeFileSync(join(folder, 'main.js'), "import { kept } from 'lent'; console.log(kept);");
    const entryPoints = [join(folder, 'main.js')];
    const { metafile } = await build({ entryPoints, bundle: true, metafile: true, write: false });
    return thirdPartyNotices([metafile]);
  }
  const manifest = '{ "name": "lent", "version": "1.2.3", "license": "MIT", "sideEffects": false }';
  const code = "export { kept } from './kept.js'; export { left } from './left.js';";
  const files = {
    'package.json': manifest,
    'index.js': code,
    'kept.js': '/* Copyright 1989 A. Writer */ export const kept = 1;',
    'left.js': '/* Copyright 1990 B. Writer */ export const left = 1;',
  };

  test('is named with its licence, and the notices of the files that are used', async () => {
    const text = await noticesOf({ ...files, LICENSE: 'Do as you like.\r\n' });
    expect(text).toContain('lent 1.2.3 (MIT)\n\nDo as you like.\n');
    expect(text).toContain('Copyright 1989 A. Writer');
    expect(text).not.toContain('B. Writer');
  });

  test('without a licence may not be bundled', async () => {
    await expect(noticesOf(files)).rejects.toThrow('lent 1.2.3 comes without the text of its licence.');
  });
});
