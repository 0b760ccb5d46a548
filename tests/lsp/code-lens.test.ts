import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { CodeLens } from 'vscode-languageserver-protocol';
import { type Server, startServer } from '../support/server.ts';

const nursery = `place    frame  frost-free shade wind-break
batch    K26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame
`;
const season = `2026-10-09
graft    K26.1..11  cut 40%  stock 9mm
`;

describe('lenses over a file that is shown and not typed in', () => {
  let folder: string;
  let server: Server;
  let refreshes: number;
  const uriOf = (name: string) => pathToFileURL(join(folder, name)).href;
  /** What the batch's lens says of its figures. */
  const figures = async () => {
    const lenses = await server.connection.sendRequest<CodeLens[]>('textDocument/codeLens', {
      textDocument: { uri: uriOf('nursery.graft') },
    });
    return lenses[0]?.command?.title;
  };
  /** Resolves once the server has asked the editor to ask again so often. */
  const asked = async (times: number) => {
    await expect.poll(() => refreshes, { timeout: 5000 }).toBe(times);
  };

  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), 'graftlog-'));
    writeFileSync(join(folder, 'nursery.graft'), nursery);
    writeFileSync(join(folder, '2026.graft'), season);
    server = await startServer({ folder: pathToFileURL(folder).href, settings: { today: '2026-10-20' } });
    refreshes = 0;
    server.connection.onRequest('workspace/codeLens/refresh', () => {
      refreshes++;
      return null;
    });
    await server.open(uriOf('nursery.graft'), nursery);
    await server.open(uriOf('2026.graft'), season);
  });
  afterEach(async () => {
    expect(await server.stop()).toBe(0);
    rmSync(folder, { recursive: true, force: true });
  });

  test('the first answer waits for the folder: never a batch without the grafts of a file still to be read', async () => {
    expect(await figures()).toBe('11 grafted · not judged yet');
  });

  test('a line in another file that changes their figures has them asked for again, once', async () => {
    await figures();
    await server.change(uriOf('2026.graft'), 2, 1, 16, 18, '12');
    await asked(1);
    expect(await figures()).toBe('12 grafted · not judged yet');
    // a change that leaves the figures as they are asks for nothing
    await server.change(uriOf('2026.graft'), 3, 1, 24, 26, '35');
    await server.connection.sendRequest('graftlog/work', {});
    await new Promise((done) => setTimeout(done, 200));
    expect(refreshes).toBe(1);
  });

  test('while the editor hasn’t asked again it is not asked twice', async () => {
    await figures();
    await server.change(uriOf('2026.graft'), 2, 1, 16, 18, '12');
    await asked(1);
    await server.change(uriOf('2026.graft'), 3, 1, 16, 18, '13');
    await new Promise((done) => setTimeout(done, 200));
    expect(refreshes).toBe(1);
    expect(await figures()).toBe('13 grafted · not judged yet');
  });

  test('typing in the file that has them asks for nothing: its editor does', async () => {
    await figures();
    await server.change(uriOf('nursery.graft'), 2, 1, 9, 12, 'B26');
    await new Promise((done) => setTimeout(done, 200));
    expect(refreshes).toBe(0);
    expect(await figures()).toBe('no grafts yet');
  });

  test('another day, and lenses turned off, are told too', async () => {
    await server.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri: uriOf('2026.graft'), version: 2 },
      contentChanges: [{ text: `${season}2026-11-20\ntake K26\n` }],
    });
    await expect.poll(figures, { timeout: 5000 }).toBe('11 grafted · not judged yet');
    await server.configure({ today: '2026-11-30', lens: true });
    await asked(1);
    expect(await figures()).toBe('11 grafted · 11 taken · take 100\u00A0% (74–100)');
    await server.configure({ today: '2026-11-30', lens: false });
    await asked(2);
    expect(await figures()).toBe(undefined);
  });
});
