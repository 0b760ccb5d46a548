import { afterEach, beforeEach, expect, test } from 'vitest';
import type { CodeAction, TextDocumentEdit, TextEdit, WorkspaceEdit } from 'vscode-languageserver-protocol';
import { addressIn, addressOf, pathIn } from '#server/workspace/address.ts';
import { edited } from '../support/edited.ts';
import { hostServer, memoryHost } from '../support/hosted-server.ts';

/* Drives, shares and lines that end in CRLF. Editors write a drive as `C:`, `c:` or `c%3A`: it is one folder all the same. */

const folder = 'file:///c%3A/Jo%20%26%20Mk/Logs';
const spelled = 'file:///C:/Jo%20&%20Mk/Logs';
const uri = `${folder}/2026.graft`;
const nursery = `${folder}/nursery.graft`;
const lines = (...all: string[]) => all.map((line) => `${line}\r\n`).join('');
const batch = lines('batch  K26  Pinus parviflora / Pinus thunbergii  side-veneer  film  frost-free');
const text = lines('2026-10-9', 'graft  K26.1..11    cut 40%', 'graft  K26.12  cut 40%', 'opne   K26  10%');

let server: Awaited<ReturnType<typeof hostServer>>;
const ask = <T>(method: string, params: object) =>
  server.connection.sendRequest<T>(method, { textDocument: { uri: `${spelled}/2026.graft` }, ...params });
beforeEach(async () => {
  server = await hostServer(memoryHost(new Map([[nursery, batch]])), [spelled], {
    workspace: { workspaceEdit: { documentChanges: true } },
  });
  await server.connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri: `${spelled}/2026.graft`, languageId: 'graft', version: 1, text },
  });
  await server.until(() => server.held.has(uri));
});
afterEach(() => server.stop());

test('findings end before the line does, and the batch of the other file is known', () => {
  const found = server.held.get(uri) ?? [];
  expect(
    found.map(({ code, range: { start, end } }) => `${code} ${start.line}:${start.character}-${end.character}`),
  ).toEqual(['bad-date 0:0-9', 'unknown-word 3:0-4']);
});

test('a mend leaves the ends of lines alone', async () => {
  const [mend] = await ask<CodeAction[]>('textDocument/codeAction', {
    range: { start: { line: 0, character: 0 }, end: { line: 0, character: 9 } },
    context: { diagnostics: [] },
  });
  const [change] = (mend?.edit?.documentChanges ?? []) as TextDocumentEdit[];
  expect(edited(text, change?.edits as TextEdit[])).toBe(text.replace('2026-10-9', '2026-10-09'));
});

test('layout does, too', async () => {
  const edits = await ask<TextEdit[]>('textDocument/formatting', { options: { tabSize: 2, insertSpaces: true } });
  expect(edited(text, edits)).toBe(
    lines('2026-10-9', 'graft    K26.1..11  cut 40%', 'graft    K26.12     cut 40%', 'opne   K26  10%'),
  );
});

test('a batch is renamed in both files, each by one address', async () => {
  const edit = await ask<WorkspaceEdit>('textDocument/rename', { position: { line: 2, character: 8 }, newName: 'K27' });
  const changes = (edit.documentChanges ?? []) as TextDocumentEdit[];
  expect(changes.map(({ textDocument }) => addressOf(textDocument.uri)).sort()).toEqual([uri, nursery]);
  const of = (name: string) => changes.find(({ textDocument }) => textDocument.uri.endsWith(name))?.edits as TextEdit[];
  expect(edited(batch, of('nursery.graft'))).toBe(batch.replace('K26', 'K27'));
  expect(edited(text, of('2026.graft'))).toBe(text.replaceAll('K26.', 'K27.'));
});

test.each([
  ['file:///C:/Logs/2026.graft', 'file:///c%3A/Logs/2026.graft'],
  ['file:///c:/Logs/2026.graft', 'file:///c%3A/Logs/2026.graft'],
  ['file://shed/Logs/2026.graft', 'file://shed/Logs/2026.graft'],
  ['file://SHED/Logs/2026.graft', 'file://shed/Logs/2026.graft'],
])('%s is %s', (one, address) => {
  expect(addressOf(one)).toBe(address);
  const home = address.slice(0, address.lastIndexOf('/'));
  expect(pathIn(home, address)).toBe('2026.graft');
  expect(addressIn(home, '2026.graft')).toBe(address);
});
