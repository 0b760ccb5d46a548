import { mkdir, readdir, readFile, stat, symlink, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { write } from '../../client/workbench/files.mjs';
import { servedFolder } from './served-folder.ts';

const versionIn = (text: string): Record<string, string> => ({ 'if-match': JSON.parse(text).version });
const isNew = { 'if-none-match': '*' };

test('a save takes the file’s place whole, and leaves nothing beside it', async () => {
  const { folder, get, put } = await servedFolder({ '2026.graft': 'graft A1.1\n' });
  const headers = versionIn((await get('stat', '/2026.graft')).text);
  const saved = await put('write', { path: '/2026.graft' }, { headers, body: 'graft A1.1..3  cut 40%\n' });
  expect(saved.status).toBe(200);
  expect(await readFile(join(folder, '2026.graft'), 'utf8')).toBe('graft A1.1..3  cut 40%\n');
  expect(await readdir(folder)).toEqual(['.keep', '2026.graft']);
});

test('a file that was changed meanwhile is not written over', async () => {
  const { folder, get, put } = await servedFolder({ '2026.graft': 'graft A1.1\n' });
  const headers = versionIn((await get('stat', '/2026.graft')).text);
  await writeFile(join(folder, '2026.graft'), 'graft A1.2\n');
  const saved = await put('write', { path: '/2026.graft' }, { headers, body: 'graft A1.3\n' });
  expect(saved).toMatchObject({ status: 412, text: 'The file was changed on the disk meanwhile.' });
  expect(await readFile(join(folder, '2026.graft'), 'utf8')).toBe('graft A1.2\n');
  expect(await readdir(folder)).toEqual(['.keep', '2026.graft']);
});

test('nor is one of the same size whose old time was put back', async () => {
  const { folder, get, put } = await servedFolder({ '2026.graft': 'graft A1.1\n' });
  const path = join(folder, '2026.graft');
  const before = await stat(path);
  const first = await get('stat', '/2026.graft');
  await new Promise((done) => setTimeout(done, 20));
  await writeFile(path, 'graft A1.2\n');
  await utimes(path, before.atime, before.mtime);
  const saved = await put('write', { path: '/2026.graft' }, { headers: versionIn(first.text), body: 'graft A1.3\n' });
  expect(saved.status).toBe(412);
  // The workbench compares times, too: it must see a later one.
  const second = await get('stat', '/2026.graft');
  expect(JSON.parse(second.text).mtime).toBeGreaterThan(JSON.parse(first.text).mtime);
});

test('a change between the first look and the renaming is seen, too', async () => {
  const { folder } = await servedFolder({ '2026.graft': 'graft A1.1\n' });
  const { ino, size, mtimeNs, ctimeNs } = await stat(join(folder, '2026.graft'), { bigint: true });
  const saving = write(folder, '/2026.graft', Buffer.alloc(8_000_000, 'x'), {
    version: `${ino}-${size}-${mtimeNs}-${ctimeNs}`,
  });
  while (!(await readdir(folder)).some((name) => name.endsWith('-half'))) await Promise.resolve();
  await writeFile(join(folder, '2026.graft'), 'graft A1.2\n');
  await expect(saving).rejects.toThrow('The file was changed on the disk meanwhile.');
  expect(await readFile(join(folder, '2026.graft'), 'utf8')).toBe('graft A1.2\n');
  expect(await readdir(folder)).toEqual(['.keep', '2026.graft']);
});

test('a new file is written only where there is none, and a deleted one is not brought back', async () => {
  const { folder, get, put } = await servedFolder({ '2026.graft': 'graft A1.1\n' });
  expect(await put('write', { path: '/2027.graft' }, { headers: isNew, body: 'new\n' })).toMatchObject({ status: 200 });
  expect(await put('write', { path: '/2026.graft' }, { headers: isNew, body: 'new\n' })).toMatchObject({ status: 412 });
  const headers = versionIn((await get('stat', '/2026.graft')).text);
  expect(await put('delete', { path: '/2026.graft' })).toMatchObject({ status: 200 });
  expect(await put('write', { path: '/2026.graft' }, { headers, body: 'old\n' })).toMatchObject({ status: 412 });
  expect(await readdir(folder)).toEqual(['.keep', '2027.graft']);
});

test('a save that does not say what it was made from is refused', async () => {
  const { put } = await servedFolder({ '2026.graft': 'graft A1.1\n' });
  expect(await put('write', { path: '/2026.graft' }, { body: 'new\n' })).toMatchObject({ status: 428 });
});

test('the file’s mode is kept', async () => {
  const { folder, get, put } = await servedFolder({});
  await writeFile(join(folder, 'a.graft'), 'graft A1.1\n', { mode: 0o600 });
  const headers = versionIn((await get('stat', '/a.graft')).text);
  await put('write', { path: '/a.graft' }, { headers, body: 'graft A1.2\n' });
  expect((await stat(join(folder, 'a.graft'))).mode & 0o777).toBe(0o600);
});

test.each([
  '../outside.graft',
  '/../outside.graft',
  '/logs/../../outside.graft',
  '/./2026.graft',
  '2026.graft',
  '/..\\outside.graft',
  '/2026.graft\0',
  '/../log-beside/own.graft',
  '',
])('no work on files with the path %j', async (path) => {
  const { get, put } = await servedFolder({ '2026.graft': 'graft A1.1\n' });
  for (const work of ['stat', 'list', 'read']) expect(await get(work, path)).toMatchObject({ status: 403 });
  expect(await put('write', { path }, { headers: isNew, body: 'x' })).toMatchObject({ status: 403 });
  for (const work of ['mkdir', 'delete']) expect(await put(work, { path })).toMatchObject({ status: 403 });
  expect(await put('rename', { path: '/2026.graft', to: path })).toMatchObject({ status: 403 });
  expect(await put('rename', { path, to: '/new.graft' })).toMatchObject({ status: 403 });
  expect(await get('read', '/2026.graft')).toMatchObject({ text: 'graft A1.1\n' });
});

test('no path at all is refused', async () => {
  const { ask, put } = await servedFolder({});
  expect(await ask('/fs/list')).toMatchObject({ status: 403 });
  expect(await put('delete', {})).toMatchObject({ status: 403 });
});

test.each(['/', '//', '///'])('the folder itself is neither deleted, renamed nor written: %s', async (path) => {
  const { folder, put } = await servedFolder({ '2026.graft': 'graft A1.1\n' });
  expect(await put('delete', { path, contents: 'yes' })).toMatchObject({ status: 403 });
  expect(await put('rename', { path, to: '/sub' })).toMatchObject({ status: 403 });
  expect(await put('rename', { path: '/2026.graft', to: path })).toMatchObject({ status: 403 });
  expect(await put('write', { path }, { headers: isNew })).toMatchObject({ status: 403 });
  expect(await readdir(folder)).toEqual(['.keep', '2026.graft']);
});

test('links are followed inside the folder, and never out of it', async () => {
  const { folder, get, put } = await servedFolder({ 'years/2026.graft': 'graft A1.1\n' });
  await symlink('years/2026.graft', join(folder, 'now.graft'));
  await symlink('..', join(folder, 'up'));
  await symlink('../outside.graft', join(folder, 'out.graft'));
  await symlink('../new.graft', join(folder, 'nowhere.graft'));
  const headers = versionIn((await get('stat', '/now.graft')).text);
  expect(await put('write', { path: '/now.graft' }, { headers, body: 'graft A1.2\n' })).toMatchObject({ status: 200 });
  expect(await readFile(join(folder, 'years/2026.graft'), 'utf8')).toBe('graft A1.2\n');
  for (const path of ['/up', '/up/outside.graft', '/up/new.graft', '/out.graft', '/nowhere.graft']) {
    expect(await get('read', path)).toMatchObject({ status: 403 });
    expect(await put('write', { path }, { headers: isNew, body: 'x' })).toMatchObject({ status: 403 });
  }
  expect(await put('mkdir', { path: '/up/new' })).toMatchObject({ status: 403 });
  expect(await put('delete', { path: '/up/outside.graft' })).toMatchObject({ status: 403 });
  expect(await put('rename', { path: '/now.graft', to: '/up/now.graft' })).toMatchObject({ status: 403 });
  expect(await readFile(join(folder, '../outside.graft'), 'utf8')).toBe('graft Z1.1\n');
  const names = JSON.parse((await get('list', '/')).text).map(([name]: [string]) => name);
  expect(names.sort()).toEqual(['.keep', 'now.graft', 'years']);
  // Deleting means the link, not what it leads to.
  expect(await put('delete', { path: '/out.graft' })).toMatchObject({ status: 200 });
  expect(await readFile(join(folder, '../outside.graft'), 'utf8')).toBe('graft Z1.1\n');
});

test('renaming asks before it replaces, a folder is emptied only when asked', async () => {
  const { folder, get, put } = await servedFolder({ 'a.graft': 'a\n', 'b.graft': 'b\n' });
  expect(await put('rename', { path: '/a.graft', to: '/b.graft' })).toMatchObject({ status: 409 });
  expect(await put('rename', { path: '/a.graft', to: '/b.graft', over: 'yes' })).toMatchObject({ status: 200 });
  expect(await get('read', '/b.graft')).toMatchObject({ text: 'a\n' });
  expect(await put('mkdir', { path: '/years' })).toMatchObject({ status: 200 });
  expect(await put('mkdir', { path: '/years' })).toMatchObject({ status: 409 });
  await writeFile(join(folder, 'years/c.graft'), 'c\n');
  expect(await put('delete', { path: '/years' })).toMatchObject({ status: 409 });
  expect(await put('delete', { path: '/years', contents: 'yes' })).toMatchObject({ status: 200 });
  expect(await get('stat', '/years')).toMatchObject({ status: 404 });
});

test('names with blanks, marks and other scripts are found again', async () => {
  const { get, put } = await servedFolder({});
  const path = '/Käse & 100% #1 日誌?.graft';
  expect(await put('write', { path }, { headers: isNew, body: 'graft A1.1\n' })).toMatchObject({ status: 200 });
  expect(await get('read', path)).toMatchObject({ status: 200, text: 'graft A1.1\n' });
});

test('other programs’ changes are told within a second or two', async () => {
  const { address, folder } = await servedFolder({ 'a.graft': 'a\n', '.vscode/settings.json': '{}' });
  const response = await fetch(`${address}events`);
  const reader = response.body?.pipeThrough(new TextDecoderStream()).getReader();
  let told = '';
  const heard = async (what: string) => {
    while (!told.includes(what)) {
      const { value, done } = (await reader?.read()) ?? { done: true };
      if (done) throw new Error(`Not told: ${what}; told: ${told}`);
      told += value;
    }
  };
  await heard(': here');
  // The first look is what later ones are compared with.
  await new Promise((done) => setTimeout(done, 300));
  await writeFile(join(folder, 'a.graft'), 'more\n');
  await heard('{"type":0,"path":"/a.graft"}');
  await mkdir(join(folder, 'years'));
  await writeFile(join(folder, 'years/b.graft'), 'b\n');
  await heard('{"type":1,"path":"/years/b.graft"}');
  await writeFile(join(folder, '.vscode/settings.json'), '{ }');
  await heard('{"type":0,"path":"/.vscode/settings.json"}');
  await reader?.cancel();
});

test('reasons name no path of this machine', async () => {
  const { folder, get } = await servedFolder({});
  const answer = await get('read', '/none.graft');
  expect(answer.status).toBe(404);
  expect(answer.text).not.toContain(folder);
});
