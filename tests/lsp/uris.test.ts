import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { URI } from 'vscode-uri';
import type { WorkList } from '#server/lsp/protocol.ts';
import { codesOf, type Server, startServer } from '../support/server.ts';

/* Editors spell an address their own way: `%28` or `(`, `%C3%A4` or `ä`, `C:` or `c%3A`. It is one file all the same. */

let folder: string;
let server: Server;
beforeEach(() => {
  folder = join(mkdtempSync(join(tmpdir(), 'graftlog-')), "Jo & Mk's logs (2026) + Käse, 100%");
  mkdirSync(folder);
  writeFileSync(
    join(folder, 'nursery (all).graft'),
    'batch K26  Pinus parviflora / Pinus thunbergii  side-veneer  film  frost-free\n',
  );
});
afterEach(async () => {
  expect(await server.stop()).toBe(0);
  rmSync(join(folder, '..'), { recursive: true, force: true });
});

test.each([
  ['as VS Code does', (path: string) => URI.file(path).toString()],
  ['bare where it may be', (path: string) => `file://${encodeURI(path)}`],
])('a folder and files with signs in their names, spelled %s', async (_, uriOf) => {
  server = await startServer({ folder: uriOf(folder), settings: { today: '2026-10-12' } });
  const uri = uriOf(join(folder, 'log (2026).graft'));
  const told = URI.file(join(folder, 'log (2026).graft')).toString();
  await server.open(uri, '2026-10-09\ngraft K26.1  cut 40%\ngraft K26.1,5  cut 40%\ngraft L26.1\n');
  // the batch of the other file is known
  expect(codesOf(await server.diagnostics(told, (found) => found.length > 1))).toEqual([
    '3 repeated-graft',
    '4 unknown-batch',
  ]);
  const symbols = await server.connection.sendRequest<unknown[]>('textDocument/documentSymbol', {
    textDocument: { uri },
  });
  expect(symbols).toHaveLength(1);
});

test('an address that is none does no harm', async () => {
  server = await startServer();
  await server.open('file:///100%/log.graft', 'opne K26\n');
  expect(codesOf(await server.diagnostics('file:///100%25/log.graft', (found) => found.length > 0))).toEqual([
    '1 unknown-word',
  ]);
  await server.open('file:////twice/log.graft', 'opne K26\n');
  expect(codesOf(await server.diagnostics('file:////twice/log.graft', (found) => found.length > 0))).toEqual([
    '1 unknown-word',
  ]);
});

test('a log that was never saved, and one in no folder, are called by their own names', async () => {
  server = await startServer();
  for (const uri of ['untitled:Untitled-1', 'file:///n%20w/A%20b.graft'])
    await server.open(uri, 'batch K26  Pinus mugo\n');
  const lists = await server.connection.sendRequest<WorkList[]>('graftlog/work', {});
  expect(lists.map(({ name }) => name)).toEqual(['Untitled-1', 'A b.graft']);
});
