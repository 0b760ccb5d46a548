import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type {
  DocumentHighlight,
  DocumentLink,
  FoldingRange,
  InlayHint,
  Location,
  LocationLink,
  SelectionRange,
  SemanticTokens,
  SemanticTokensDelta,
  WorkspaceEdit,
  WorkspaceSymbol,
} from 'vscode-languageserver-protocol';
import { type Server, startServer } from '../support/server.ts';

const nursery = `place    frame  frost-free shade wind-break
batch    K26  Pinus parviflora / P. thunbergii  side-veneer  film 38mm  in frame
`;
const season = `2026-10-09
graft    K26.1..11  cut 40%  by mk
graft    K26.12     cut 22%  by mk  photo "pictures/k26-12.jpg"

2027-03-20
swell    K26  # K26 moves
`;

let folder: string;
let server: Server;
let uri: string;
let nurseryUri: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'graftlog-'));
  writeFileSync(join(folder, 'nursery.graft'), nursery);
  writeFileSync(join(folder, '2026.graft'), season);
  uri = pathToFileURL(join(folder, '2026.graft')).href;
  nurseryUri = pathToFileURL(join(folder, 'nursery.graft')).href;
  server = await startServer({ folder: pathToFileURL(folder).href, settings: { today: '2027-04-06' } });
  await server.open(uri, season);
  await server.diagnostics(uri, (found) => found.length > 0);
});
afterAll(async () => {
  expect(await server.stop()).toBe(0);
  rmSync(folder, { recursive: true, force: true });
});
const ask = <T>(method: string, params: object = {}) =>
  server.connection.sendRequest<T>(`textDocument/${method}`, { textDocument: { uri }, ...params });
const on = (line: number, character: number) => ({ position: { line, character } });
const linesOf = (found: readonly Location[]) =>
  found.map((one) => `${one.uri === uri ? '' : 'nursery '}${one.range.start.line + 1}`);

test('references lead through all files', async () => {
  const found = await ask<Location[]>('references', { ...on(2, 14), context: { includeDeclaration: true } });
  expect(linesOf(found)).toEqual(['3', '6', 'nursery 2']);
});

test('definition of a graft is the line that made it, of its batch the batch’s line', async () => {
  const links = await ask<(LocationLink | Location)[]>('definition', on(5, 10));
  expect(links.map((one) => ('uri' in one ? one.uri : one.targetUri))).toEqual([nurseryUri]);
});

test('highlight, folds and a selection that grows', async () => {
  const lit = await ask<DocumentHighlight[]>('documentHighlight', on(5, 10));
  expect(lit.map(({ range }) => range.start.line + 1)).toEqual([2, 3, 6]);
  const folds = await ask<FoldingRange[]>('foldingRange');
  expect(folds).toEqual([
    { startLine: 0, endLine: 2 },
    { startLine: 4, endLine: 5 },
  ]);
  const [selected] = await ask<SelectionRange[]>('selectionRange', { positions: [{ line: 1, character: 26 }] });
  expect(selected?.parent?.range).toEqual({ start: { line: 1, character: 20 }, end: { line: 1, character: 27 } });
});

test('rename asks first, says what it can’t, and edits every file', async () => {
  await expect(ask('prepareRename', on(2, 14))).rejects.toThrow('A graft’s number is for life');
  expect(await ask('prepareRename', on(2, 10))).toMatchObject({ placeholder: 'K26' });
  await expect(ask('rename', { ...on(2, 10), newName: 'frame' })).rejects.toThrow('`frame` is a place of this log');
  const edit = await ask<WorkspaceEdit>('rename', { ...on(2, 10), newName: 'K27' });
  expect(edit.documentChanges?.map((one) => 'textDocument' in one && [one.textDocument, one.edits.length])).toEqual([
    [{ uri, version: 1 }, 4],
    [{ uri: nurseryUri, version: null }, 1],
  ]);
  expect(Object.keys(edit.changeAnnotations ?? {})).toEqual(['name', 'remark']);
});

test('a file that changed on the disk and nobody told is renamed as it is now', async () => {
  const path = join(folder, 'nursery.graft');
  writeFileSync(path, `# moved down\n${nursery}`);
  const edit = await ask<WorkspaceEdit>('rename', { ...on(2, 10), newName: 'K27' });
  const change = edit.documentChanges?.find((one) => 'textDocument' in one && one.textDocument.uri === nurseryUri);
  expect(change).toMatchObject({ edits: [{ range: { start: { line: 2 } } }] });
  writeFileSync(path, nursery);
});

test('names of the folder, and links to its pictures', async () => {
  const symbols = await server.connection.sendRequest<WorkspaceSymbol[]>('workspace/symbol', { query: 'fr' });
  expect(symbols.map(({ name }) => name)).toEqual(['frame']);
  const links = await ask<DocumentLink[]>('documentLink');
  expect(links.map(({ target }) => target)).toEqual([pathToFileURL(join(folder, 'pictures/k26-12.jpg')).href]);
});

test('colours of the file, of what is in sight, and of what a key changed', async () => {
  const full = await ask<SemanticTokens>('semanticTokens/full');
  expect(full.data.length).toBeGreaterThan(60);
  const range = { start: { line: 1, character: 0 }, end: { line: 1, character: 9 } };
  expect((await ask<SemanticTokens>('semanticTokens/range', { range })).data.slice(0, 5)).toEqual([1, 0, 5, 0, 0]);
  await server.change(uri, 2, 5, 0, 5, 'check');
  const delta = await ask<SemanticTokensDelta>('semanticTokens/full/delta', { previousResultId: full.resultId });
  expect(delta.edits).toEqual([]);
  await server.change(uri, 3, 5, 0, 5, 'swell');
});

test('hints for what is in sight; told when a line elsewhere or a setting changes them', async () => {
  const range = { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } };
  const labels = async () => (await ask<InlayHint[]>('inlayHint', { range })).map(({ label }) => label);
  // an editor that doesn't see to it by itself gets none for the line written last
  expect(await labels()).toEqual([]);
  await server.change(uri, 4, 3, 0, 0, ' ');
  expect(await labels()).toEqual(['next step 10 days late']);
  let refreshed = 0;
  server.connection.onRequest('workspace/inlayHint/refresh', () => {
    refreshed++;
    return null;
  });
  await server.open(nurseryUri, nursery);
  await server.change(nurseryUri, 2, 1, 0, 0, '2027-04-01 open K26 10%\n');
  await expect.poll(() => refreshed, { timeout: 5000 }).toBeGreaterThan(0);
  expect(await labels()).toEqual(['day 162']);
  await server.configure({ today: '2027-04-06', hints: false });
  await expect.poll(labels, { timeout: 5000 }).toEqual([]);
});
