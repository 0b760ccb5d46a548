import { afterAll, beforeAll, expect, test } from 'vitest';
import { CancellationTokenSource, LSPErrorCodes } from 'vscode-languageserver-protocol';
import { type Server, startServer } from '../support/server.ts';

/** Long enough that it is still being taken in when it is first asked about. */
const long = `2026-10-09\n${Array.from({ length: 10_000 }, (_, i) => `check  K${i % 50}  "visit ${i}"`).join('\n')}\n${Array.from({ length: 50 }, (_, i) => `batch K${i} Pinus mugo`).join('\n')}\n`;
const uri = 'untitled:long.graft';
const hover = { textDocument: { uri }, position: { line: 1, character: 8 } };

let server: Server;
beforeAll(async () => {
  server = await startServer({ settings: { today: '2026-11-01' } });
});
afterAll(async () => {
  expect(await server.stop()).toBe(0);
});

test('an answer about a text that has changed since is refused; the next one is about the text as it is', async () => {
  await server.open(uri, long);
  const asked = server.connection.sendRequest('textDocument/hover', hover);
  await server.change(uri, 2, 1, 7, 9, 'K7');
  await expect(asked).rejects.toMatchObject({ code: LSPErrorCodes.ContentModified });
  const hovered = await server.connection.sendRequest<{ contents: { value: string } }>('textDocument/hover', hover);
  expect(hovered.contents.value).toContain('K7');
});

test('an answer nobody waits for any more is not worked out', async () => {
  const cancel = new CancellationTokenSource();
  await server.connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
  await server.open(uri, long);
  const asked = server.connection.sendRequest('textDocument/hover', hover, cancel.token);
  cancel.cancel();
  await expect(asked).rejects.toMatchObject({ code: LSPErrorCodes.RequestCancelled });
});
