import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import type { CheckResult, FigureChoicesResult, SheetResult, WorkList } from '#server/lsp/protocol.ts';
import { hostServer, memoryHost } from '../support/hosted-server.ts';

const page = 'graftlog-page:/practice.graft';
const nursery = 'batch K26  Pinus mugo / Pinus sylvestris  side-veneer  film\n2026-10-09  graft  K26.1..4  cut 40%\n';

/** A server on an empty folder and a nursery's, with the shipped practice open in the editor. */
async function started() {
  const server = await hostServer(memoryHost(new Map([['file:///n/a.graft', nursery]])), [
    'file:///empty',
    'file:///n',
  ]);
  onTestFinished(() => server.stop());
  const text = readFileSync(resolve('server/engine/practice.graft'), 'utf8');
  await server.connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri: page, languageId: 'graft', version: 1, text },
  });
  return <R>(method: string, params: object = {}): Promise<R> => server.connection.sendRequest(method, params);
}

test('the shipped practice, open to be read, is no log beside the others', async () => {
  const ask = await started();
  expect((await ask<WorkList[]>('graftlog/work')).map(({ name, files }) => `${name} ${files}`)).toEqual([
    'empty 0',
    'n 1',
  ]);
  expect(await ask('workspace/symbol', { query: 'K26' })).toMatchObject([{ name: 'K26' }]);
});

test('asked from that page, or from nowhere, sheet, figures and check are of the first log with lines in it', async () => {
  const ask = await started();
  for (const params of [{}, { uri: page }]) {
    expect((await ask<SheetResult>('graftlog/sheet', params))?.html).toContain('K26');
    expect((await ask<FigureChoicesResult>('graftlog/figureChoices', params))?.uri).toBe('file:///n');
  }
  expect(await ask<CheckResult>('graftlog/check')).toMatchObject({ sum: expect.stringContaining('1 file') });
});

test('asked from a folder without a log there is nothing to tell', async () => {
  const ask = await started();
  const uri = 'file:///empty/notes.md';
  expect(await ask('graftlog/sheet', { uri })).toBeNull();
  expect(await ask('graftlog/figureChoices', { uri })).toBeNull();
  expect(await ask('graftlog/check', { root: 'file:///empty' })).toBeNull();
});
