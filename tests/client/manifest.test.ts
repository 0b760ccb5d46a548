import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';

const project = resolve(import.meta.dirname, '../..');
const textOf = (name: string): string => readFileSync(join(project, name), 'utf8');
const manifest = JSON.parse(textOf('package.json'));
const texts: Record<string, string> = JSON.parse(textOf('package.nls.json'));
const { contributes } = manifest;
const client = readdirSync(join(project, 'client'))
  .filter((name) => name.endsWith('.ts'))
  .map((name) => textOf(`client/${name}`))
  .join('\n');

test('every command in a menu or key is one that the extension carries out, and has a title', () => {
  const registered = [...client.matchAll(/registerCommand\(\s*'(graftlog\.\w+)'/g)].map(([, name]) => name);
  const titled = contributes.commands.map(({ command }: { command: string }) => command);
  const inMenus = Object.values<{ command: string }[]>(contributes.menus).flat();
  const named = [...inMenus, ...contributes.keybindings].map(({ command }) => command);
  expect(registered.length).toBeGreaterThan(5);
  expect(titled.filter((command: string) => !registered.includes(command))).toEqual([]);
  // the editor's own, which runs several of its own one after the other
  expect(named.filter((command) => !titled.includes(command) && command !== 'runCommands')).toEqual([]);
});

test('buttons in texts run commands that are there', () => {
  const titled = contributes.commands.map(({ command }: { command: string }) => command);
  const views = Object.values<{ id: string }[]>(contributes.views).flat();
  const known = [...titled, ...views.map(({ id }) => `${id}.focus`)];
  const buttons = Object.values(texts).flatMap((text) =>
    [...text.matchAll(/\(command:([\w.]+)\)/g)].map(([, name]) => name),
  );
  expect(buttons.length).toBeGreaterThan(2);
  expect(buttons.filter((name) => !known.includes(name))).toEqual([]);
});

test('every text is there, and used', () => {
  const used = [...textOf('package.json').matchAll(/"%([\w.]+)%"/g)].map(([, name]) => name);
  expect([...new Set(used)].sort()).toEqual(Object.keys(texts).sort());
});

test('at most ten settings, each read by client or server', () => {
  const names = Object.keys(contributes.configuration.properties);
  expect(names.length).toBeLessThanOrEqual(10);
  const server = readdirSync(join(project, 'server/lsp')).map((name) => textOf(`server/lsp/${name}`));
  const own = names.map((name) => name.replace('graftlog.', ''));
  const unread = own.filter(
    (name) => ![client, ...server].some((text) => new RegExp(`settings\\??\\.${name}\\b`).test(text)),
  );
  expect(unread).toEqual([]);
});

test('what the manifest points to is there', () => {
  const paths = [...JSON.stringify(contributes).matchAll(/"(?:\.\/)?((?:client|grammar)\/[\w./-]+\.\w+)"/g)];
  const named = [manifest.icon, ...paths.map(([, path]) => path)];
  expect(named.length).toBeGreaterThan(6);
  expect(named.filter((path) => !existsSync(join(project, path)))).toEqual([]);
});

test('the walkthrough has four or five steps, each with a picture that is there and said in words', () => {
  const [{ steps }] = contributes.walkthroughs;
  const pages: string[] = steps.map(({ media }: { media: { markdown: string } }) => media.markdown);
  expect(pages.length).toBeGreaterThanOrEqual(4);
  expect(pages.length).toBeLessThanOrEqual(5);
  for (const page of pages) {
    const [, words, picture] = /!\[([^\]]+)\]\(([^)]+)\)/.exec(textOf(page)) ?? [];
    expect(words?.length, page).toBeGreaterThan(20);
    expect(existsSync(join(project, 'client/walkthrough', picture ?? 'none')), page).toBe(true);
  }
});

test('runs everywhere: untrusted and virtual folders, desktop and web, nothing to install beside it', () => {
  expect(manifest.capabilities).toEqual({
    untrustedWorkspaces: { supported: 'limited', description: '%untrusted%' },
    virtualWorkspaces: true,
  });
  // limited in one thing only, and the person is told in which
  expect(texts.untrusted).toContain('aren’t read before the folder is trusted');
  expect(manifest).toMatchObject({ main: './dist/client.js', browser: './dist/web/client.js' });
  expect(manifest.dependencies).toBeUndefined();
  expect(manifest.type).toBe('commonjs');
  expect(manifest.activationEvents).not.toContain('*');
  expect(manifest.activationEvents).not.toContain('onStartupFinished');
});

test('versions are pinned', () => {
  const loose = Object.entries<string>(manifest.devDependencies).filter(
    ([, version]) => !/^\d+\.\d+\.\d+$/.test(version),
  );
  expect(loose).toEqual([]);
});

test('what the command line prints is found by the problem matcher', () => {
  const [{ pattern }] = contributes.problemMatchers;
  const printed = execFileSync(
    process.execPath,
    ['dist/cli.js', 'check', '-', '--on', '2026-11-01', '--fail-on', 'never', '--color', 'never'],
    { cwd: project, encoding: 'utf8', input: 'batch K26  Pinus parviflora / P. thunbergii\n2026-10-09 graft K27.1\n' },
  );
  const found = printed.split('\n').map((line) => new RegExp(pattern.regexp).exec(line));
  const [match] = found.filter((one) => one !== null);
  expect(match?.[pattern.severity]).toBe('error');
  expect(match?.[pattern.line]).toBe('2');
  expect(match?.[pattern.code]).toBe('unknown-batch');
});

test('`×`, `’`, `–` and letters with accents are no look-alikes: the editor draws no box around them', () => {
  expect(contributes.configurationDefaults['[graft]']).toMatchObject({
    'editor.unicodeHighlight.ambiguousCharacters': false,
    'editor.unicodeHighlight.nonBasicASCII': false,
  });
});
