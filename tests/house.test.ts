import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { expect, test } from 'vitest';

const project = resolve(import.meta.dirname, '..');

/**
 * Each room with the rooms it may import, the packages it may use, and whether it must stay free of clock, dice,
 * screen and machine. The first room whose path fits is the file's; the order is that of the way through.
 */
const rooms: readonly Room[] = [
  { path: 'grammar', rooms: [], packages: ['chevrotain', 'luxon'], pure: true },
  { path: 'server/statistics', rooms: [], packages: ['@stdlib/'], pure: true },
  { path: 'server/weather', rooms: ['grammar'], packages: ['papaparse'], pure: true },
  {
    path: 'server/engine',
    rooms: ['grammar', 'server/statistics', 'server/weather'],
    packages: ['luxon'],
    pure: true,
  },
  {
    path: 'server/report',
    rooms: ['grammar', 'server/statistics', 'server/engine'],
    packages: ['d3-scale', 'd3-shape', 'string-width', 'uqr'],
    pure: true,
  },
  {
    path: 'server/export',
    rooms: ['grammar', 'server/statistics', 'server/engine', 'server/report'],
    packages: ['papaparse', 'ical-generator'],
    pure: true,
  },
  {
    path: 'server/import',
    rooms: ['grammar'],
    packages: ['papaparse'],
    pure: true,
  },
  {
    path: 'server/workspace',
    rooms: ['grammar', 'server/engine', 'server/weather'],
    packages: ['luxon', 'vscode-uri'],
    pure: true,
  },
  {
    path: 'server/lsp',
    rooms: ['grammar', 'server/engine', 'server/statistics', 'server/report', 'server/export', 'server/workspace'],
    packages: ['vscode-languageserver', 'vscode-uri'],
    pure: true,
  },
  {
    path: 'server/node',
    rooms: [
      ...['grammar', 'server/engine', 'server/report', 'server/export'],
      ...['server/import', 'server/workspace', 'server/lsp'],
    ],
    packages: ['node:', 'vscode-languageserver/node', 'vscode-uri', 'picocolors', 'tinyglobby'],
  },
  {
    path: 'server/web',
    rooms: ['grammar', 'server/workspace', 'server/lsp'],
    packages: ['vscode-languageserver'],
  },
  { path: 'client/packing', rooms: [], packages: ['node:', 'esbuild'] },
  { path: 'client/workbench', rooms: [], packages: ['node:', 'vite', '@codingame/'] },
  { path: 'client', rooms: ['server/lsp/protocol.ts'], packages: ['vscode', 'vscode-languageclient'] },
];
interface Room {
  readonly path: string;
  readonly rooms: readonly string[];
  readonly packages: readonly string[];
  readonly pure?: true;
}

/** Tables and texts may be long; code is not. */
const longest = 300;
const tables = /^grammar\/(vocabulary|codes)|^server\/import\/facts|^tests\/(reference|golden)\/|\.(graft|md|json)$/;

const names = readdirSync(project, { recursive: true, encoding: 'utf8' })
  .map((name) => name.split(sep).join('/'))
  .filter((name) => !/(^|\/)(node_modules|dist|coverage|\.(git|types|pictures|cache))(\/|$)/.test(name));
const sources = names.filter((name) => /\.(ts|mjs|mts)$/.test(name) && !name.endsWith('.d.ts'));
const textOf = (name: string): string => readFileSync(join(project, name), 'utf8');
/** Strings stay, as an import is one; comments may name what the code may not use. */
const codeOf = (name: string): string => textOf(name).replace(/\/\*[\s\S]*?\*\/|(?<=^|\s)\/\/.*$/gm, '');
const roomOf = (name: string): Room | undefined => rooms.find(({ path }) => name.startsWith(`${path}/`));

/** What a file imports: project files as their names, packages as they are written. */
function importsOf(name: string): { readonly files: string[]; readonly packages: string[] } {
  const found = codeOf(name).matchAll(
    /^(?:import|export)\b[^;']*\bfrom '([^']+)'|^import '([^']+)'|\bimport\(\s*'([^']+)'/gm,
  );
  const files: string[] = [];
  const packages: string[] = [];
  for (const [, from, bare, later] of found) {
    const what = from ?? bare ?? later ?? '';
    if (what.startsWith('#')) files.push(what.slice(1));
    else if (what.startsWith('.'))
      files.push(
        relative(project, join(project, dirname(name), what))
          .split(sep)
          .join('/'),
      );
    else packages.push(what);
  }
  return { files, packages };
}

const inPackage = (what: string, allowed: string): boolean =>
  allowed.endsWith(':') || allowed.endsWith('/')
    ? what.startsWith(allowed)
    : what === allowed || what.startsWith(`${allowed}/`);

test('a room imports only the rooms before it', () => {
  const backwards = sources.flatMap((name) => {
    const room = roomOf(name);
    if (!room) return [];
    return importsOf(name)
      .files.filter((file) => roomOf(file) !== room)
      .filter((file) => !room.rooms.some((path) => file === path || file.startsWith(`${path}/`)))
      .map((file) => `${name} imports ${file}`);
  });
  expect(backwards).toEqual([]);
});

test('a room uses only its own packages', () => {
  const strangers = sources.flatMap((name) => {
    const room = roomOf(name);
    if (!room) return [];
    return importsOf(name)
      .packages.filter((what) => !room.packages.some((allowed) => inPackage(what, allowed)))
      .map((what) => `${name} imports ${what}`);
  });
  expect(strangers).toEqual([]);
});

test('the imports of every room are found, so that the two tests above see something', () => {
  const seen = sources.filter((name) => roomOf(name)).flatMap((name) => importsOf(name).files);
  expect(seen.length).toBeGreaterThan(100);
  expect(importsOf('client/extension.ts')).toMatchObject({
    files: expect.arrayContaining(['server/lsp/protocol.ts', 'client/work-list.ts']),
    packages: expect.arrayContaining(['vscode', 'vscode-languageclient']),
  });
});

test('grammar, engine and language server ask the host for the day, and nobody for luck', () => {
  const banned =
    /\bDate\.now\b|\bnew Date\(\s*\)|\bDateTime\.(now|local|utc)\(\s*\)|\bMath\.random\b|\bconsole\.|\bprocess\./g;
  const found = sources
    .filter((name) => roomOf(name)?.pure)
    .flatMap((name) => [...codeOf(name).matchAll(banned)].map(([call]) => `${name} calls ${call}`));
  expect(found).toEqual([]);
});

test('statistics knows numbers only', () => {
  const found = sources.filter((name) => name.startsWith('server/statistics/') && /graft/i.test(textOf(name)));
  expect(found).toEqual([]);
});

test(`files are short: at most ${longest} lines, tables apart`, () => {
  const long = sources
    .filter((name) => !tables.test(name))
    .map((name) => `${textOf(name).split('\n').length - 1} ${name}`)
    .filter((row) => Number.parseInt(row, 10) > longest);
  expect(long).toEqual([]);
});

test('names are lower case with hyphens', () => {
  expect(sources.filter((name) => !/^[a-z0-9./-]+$/.test(name))).toEqual([]);
});

test('on top stand the four rooms, the examples and what tools look for there', () => {
  const agreed = new Set(
    [
      'README.md DEVELOPERS.md CHANGELOG.md LICENSE package.json package.nls.json package-lock.json',
      'client server grammar examples tests',
      'tsconfig.json tsconfig.base.json biome.json knip.json esbuild.mjs vitest.config.mts .ci .gitignore .npmrc .vscode',
    ].flatMap((row) => row.split(' ')),
  );
  const packed = /\.(vsix|tgz)$/;
  const top = names.filter((name) => !name.includes('/') && !agreed.has(name) && !packed.test(name));
  expect(top).toEqual([]);
});

test('the project stands by itself: no file names a place outside of it', () => {
  // Put together here, so that this file doesn't name them.
  const outside = new RegExp(
    [`(?<![\\w.])/(?:work|tmp)/`, ['..', 'shared'].join('/'), `tran${'script'}`].join('|'),
    'i',
  );
  const texts = names.filter((name) =>
    /\.(ts|mts|mjs|json|md|graft|csv|css|html|yml)$|^\.(ci\/|npmrc|gitignore)/.test(name),
  );
  const found = texts.flatMap((name) => {
    const place = outside.exec(textOf(name))?.[0];
    return place === undefined ? [] : [`${name} names ${place}`];
  });
  expect(found).toEqual([]);
});

test('the lock file names no address to download from', () => {
  expect(textOf('package-lock.json')).not.toMatch(/"resolved"|https?:\/\/registry/);
});
