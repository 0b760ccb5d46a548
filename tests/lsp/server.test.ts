import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type {
  CodeAction,
  CodeLens,
  CompletionItem,
  CompletionList,
  DocumentSymbol,
  Hover,
  Location,
  TextDocumentEdit,
  TextEdit,
} from 'vscode-languageserver-protocol';
import type { WorkList } from '#server/lsp/protocol.ts';
import { codesOf, type Server, startServer } from '../support/server.ts';

const nursery = `site     Drumlin-Lane  lat 47.90  lon 8.10
place    frame  frost-free shade wind-break
batch    K26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame
batch    B26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame
`;
const season = `2026-10-09
graft    K26.1..11   cut 40%  stock 9mm  scion 4mm x 90mm  whorls 2  by mk
graft    K26.12      cut 22%  stock 9mm  scion 4mm x 90mm  whorls 2  by mk

2027-03-20
swell    K26
2027-03-24
open     K26  10%
`;

describe('a folder with two files, one of them open', () => {
  let server: Server;
  let folder: string;
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
  const ask = <T>(method: string, params: object, at = uri) =>
    server.connection.sendRequest<T>(method, { textDocument: { uri: at }, ...params });
  const position = (line: number, character: number) => ({ position: { line, character } });

  test('findings come with code, sentence and source, and batches declared in a file that isn’t open are known', async () => {
    const found = await server.diagnostics(uri, (all) => all.length > 0);
    // the first thing ever sent: no unknown batch while the folder is being read
    expect(codesOf(found)).toEqual(['3 cut-shallow']);
    expect(found[0]).toMatchObject({
      source: 'graft-log',
      severity: 3,
      range: { start: { line: 2, character: 21 }, end: { line: 2, character: 28 } },
    });
    expect(found[0]?.message).toMatch(/^Cut 22\u00A0% deep: side-veneer grafts are cut/);
  });

  test('a slip is told as it is typed, and taken back with the key that mends it', async () => {
    await server.change(uri, 2, 1, 25, 26, '9');
    expect(codesOf(await server.diagnostics(uri, (all) => all.length === 2))).toEqual(['2 cut-deep', '3 cut-shallow']);
    await server.change(uri, 3, 1, 25, 26, '4');
    expect(codesOf(await server.diagnostics(uri, (all) => all.length === 1))).toEqual(['3 cut-shallow']);
  });

  test('hover on a set tells where it stands and what comes next; on `cut` its geometry', async () => {
    const set = await ask<Hover>('textDocument/hover', position(1, 12));
    const text = (set.contents as { value: string }).value.replaceAll('\\', '');
    expect(text).toContain('**K26.1..11** · Pinus parviflora / Pinus thunbergii');
    expect(text).toContain('side-veneer, made 9 Oct 2026, in frame (frost-free, shade, wind-break)');
    expect(text).toContain('11 grafts open to 10\u00A0%');
    expect(text).toContain(
      '**Next** open a step to 15–20\u00A0%, due today'.replace('due today', '3–7 Apr, K26.1..12: 12 grafts'),
    );
    const cut = await ask<Hover>('textDocument/hover', position(1, 23));
    expect((cut.contents as { value: string }).value).toContain('**Cut 40\u00A0% of 9\u00A0mm: 3.6\u00A0mm deep**');
  });

  test('one lens pair over each batch line and no other line', async () => {
    const lenses = await ask<CodeLens[]>('textDocument/codeLens', {}, nurseryUri);
    expect(lenses.map((lens) => `${lens.range.start.line} ${lens.command?.title}`)).toEqual([
      '2 12 grafted · not judged yet',
      '2 next: open a step to 15–20\u00A0%, 3–7 Apr',
      '3 no grafts yet',
    ]);
    expect(await ask<CodeLens[]>('textDocument/codeLens', {})).toEqual([]);
  });

  test('completion: verbs on an empty line, names behind a verb, facts not given yet, and the next graft', async () => {
    const labels = async (line: number, character: number) =>
      (await ask<CompletionList>('textDocument/completion', position(line, character))).items.map(({ label }) => label);
    expect(await labels(3, 0)).toEqual(expect.arrayContaining(['graft K26.13', 'graft', 'check', 'open']));
    await server.change(uri, 4, 8, 0, 0, 'graft K26.13  c');
    expect(await labels(8, 15)).toEqual(['cut', 'cleft', 'chip-bud']);
    expect(await labels(8, 14)).toEqual([]);
    await server.change(uri, 5, 8, 0, 15, 'open ');
    // nothing is made of B26 yet, so nothing of it can be opened
    expect(await labels(8, 5)).toEqual(['K26', 'frame']);
    const { items } = await ask<CompletionList>('textDocument/completion', position(8, 5));
    const item = await server.connection.sendRequest<CompletionItem>('completionItem/resolve', items[0]);
    expect((item.documentation as { value: string }).value).toContain('12 grafts open to 10');
    await server.change(uri, 6, 8, 0, 5, '');
    await server.diagnostics(uri, (all) => all.length === 1);
  });

  test('definition leads from a graft to the line that made it, and to its batch', async () => {
    const made = await ask<Location[]>('textDocument/definition', position(7, 10));
    expect(made.map((one) => [one.uri, one.range.start.line])).toEqual([[nurseryUri, 2]]);
  });

  test('the outline has what is declared and the days with their lines', async () => {
    const declared = await ask<DocumentSymbol[]>('textDocument/documentSymbol', {}, nurseryUri);
    expect(declared.map((symbol) => symbol.name)).toEqual(['Drumlin-Lane', 'frame', 'K26', 'B26']);
    const days = await ask<DocumentSymbol[]>('textDocument/documentSymbol', {});
    expect(days.map((symbol) => `${symbol.name} ${symbol.children?.length}`)).toEqual([
      '2026-10-09 2',
      '2027-03-20 1',
      '2027-03-24 1',
    ]);
  });

  test('the work list in words, and a row’s line to write', async () => {
    const [list] = await server.connection.sendRequest<WorkList[]>('graftlog/work', {});
    expect(list).toMatchObject({ on: '2027-04-06', onShown: 'Tue 6 Apr', files: 2 });
    expect(list?.rows.map((row) => `${row.state} ${row.batch} ${row.title} ${row.when}`)).toContain(
      'due K26 open a step to 15–20\u00A0% by 7 Apr',
    );
    expect(list?.rows.find((row) => row.what === 'open')?.write).toEqual([{ seen: '', text: 'open  K26.1..12  15%' }]);
  });

  test('a mend takes its finding away', async () => {
    const actions = await ask<CodeAction[]>('textDocument/codeAction', {
      range: { start: { line: 2, character: 21 }, end: { line: 2, character: 28 } },
      context: { diagnostics: [] },
    });
    const known = actions.find((action) => action.title === 'I know: accept on this line');
    const [changed] = (known?.edit?.documentChanges ?? []) as TextDocumentEdit[];
    expect(changed?.textDocument).toEqual({ uri, version: expect.any(Number) });
    const edit = changed?.edits[0] as TextEdit | undefined;
    expect(edit?.newText).toBe('  accept cut-shallow');
    await server.change(
      uri,
      7,
      2,
      edit?.range.start.character ?? 0,
      edit?.range.end.character ?? 0,
      edit?.newText ?? '',
    );
    expect(await server.diagnostics(uri, (all) => all.length === 0)).toEqual([]);
  });

  test('a file deleted on disk loses its findings and its lines', async () => {
    rmSync(join(folder, 'nursery.graft'));
    await server.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [{ uri: nurseryUri, type: 3 }],
    });
    expect(codesOf(await server.diagnostics(uri, (all) => all.length > 0))).toContain('2 unknown-batch');
  });
});

test('findings are pulled where the client asks for them', async () => {
  const server = await startServer({ pull: true });
  expect(server.initialized.capabilities.diagnosticProvider).toMatchObject({ interFileDependencies: true });
  const uri = 'untitled:log.graft';
  await server.open(uri, 'opne K26 20%\n');
  const report = await server.connection.sendRequest<{ items: { code: string }[] }>('textDocument/diagnostic', {
    textDocument: { uri },
  });
  expect(report.items.map((item) => item.code)).toEqual(['unknown-word']);
  expect(await server.stop()).toBe(0);
});

test('what is pulled waits for the folder: a batch declared in another file is known', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'graftlog-'));
  writeFileSync(join(folder, 'nursery.graft'), nursery);
  const server = await startServer({
    pull: true,
    folder: pathToFileURL(folder).href,
    settings: { today: '2027-04-06' },
  });
  const uri = pathToFileURL(join(folder, '2026.graft')).href;
  await server.open(uri, season);
  const report = await server.connection.sendRequest<{ items: { code: string }[] }>('textDocument/diagnostic', {
    textDocument: { uri },
  });
  expect(report.items.map((item) => item.code)).toEqual(['cut-shallow']);
  expect(await server.stop()).toBe(0);
  rmSync(folder, { recursive: true, force: true });
});

test('requests for files that are no logs, and edits out of range, are answered and harm nothing', async () => {
  const server = await startServer();
  const uri = 'file:///nowhere/log.graft';
  expect(
    await server.connection.sendRequest('textDocument/hover', {
      textDocument: { uri },
      position: { line: 0, character: 0 },
    }),
  ).toBe(null);
  await server.open(uri, '2026-10-09\nopne K26\n');
  await server.diagnostics(uri, (all) => all.length === 1);
  await server.change(uri, 2, 900, 0, 500, 'xyz');
  expect(codesOf(await server.diagnostics(uri, (all) => all.length === 2))).toEqual([
    '2 unknown-word',
    '3 unknown-word',
  ]);
  await expect(server.connection.sendRequest('graftlog/nothing', {})).rejects.toThrow();
  expect(await server.stop()).toBe(0);
});
