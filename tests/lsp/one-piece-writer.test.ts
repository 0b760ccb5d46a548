import { PassThrough } from 'node:stream';
import fc from 'fast-check';
import { expect, test, vi } from 'vitest';
import { type Message, StreamMessageReader } from 'vscode-languageserver/node';
import { TokenNumbers } from '#server/lsp/token-numbers.ts';
import { OnePieceWriter } from '#server/node/one-piece-writer.ts';

/** What the library's own reader takes off the stream again. */
async function readAgain(messages: readonly Message[]): Promise<Message[]> {
  const stream = new PassThrough();
  const writer = new OnePieceWriter(stream);
  for (const message of messages) await writer.write(message);
  const read: Message[] = [];
  return new Promise((done) => {
    new StreamMessageReader(stream).listen((message) => {
      read.push(message);
      if (read.length === messages.length) done(read);
    });
  });
}

const text = fc.string({ unit: 'binary', maxLength: 20 });
const diagnostic = fc.record({
  range: fc.constant({ start: { line: 0, character: 0 }, end: { line: 0, character: 1 } }),
  code: fc.constant('cut-shallow'),
  message: text,
});

test('what is written is read again, findings that were sent before included', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(diagnostic, { maxLength: 5 }),
      fc.array(diagnostic, { maxLength: 3 }),
      fc.option(fc.nat(9), { nil: undefined }),
      text,
      async (kept, fresh, version, uri) => {
        const said = (diagnostics: unknown[]) => ({
          jsonrpc: '2.0',
          method: 'textDocument/publishDiagnostics',
          params: { uri, diagnostics, ...(version === undefined ? {} : { version }) },
        });
        const messages = [said(kept), said([...kept, ...fresh]), said([]), { jsonrpc: '2.0', id: 1, result: uri }];
        expect(await readAgain(messages)).toEqual(messages);
      },
    ),
    { numRuns: 200 },
  );
});

test('colours are written as the library would write them', async () => {
  const numbers = fc.array(fc.oneof(fc.nat(12), fc.nat(130), fc.nat(65_535)), { maxLength: 12 });
  await fc.assert(
    fc.asyncProperty(numbers, fc.option(text, { nil: undefined }), async (data, resultId) => {
      const said = (sent: unknown) => ({
        jsonrpc: '2.0',
        id: 7,
        result: { data: sent, ...(resultId === undefined ? {} : { resultId }) },
      });
      expect(await readAgain([said(TokenNumbers.from(data))])).toEqual([said(data)]);
    }),
    { numRuns: 300 },
  );
});

test('a long list is one message, and what is said meanwhile stands before it', async () => {
  const long = { jsonrpc: '2.0', id: 3, result: Array.from({ length: 5001 }, (_, i) => ({ newText: `é${i}` })) };
  const short = { jsonrpc: '2.0', id: 4, result: { contents: 'K26' } };
  const stream = new PassThrough();
  const writer = new OnePieceWriter(stream);
  const read: Message[] = [];
  const reader = new StreamMessageReader(stream);
  reader.listen((message) => read.push(message));
  await Promise.all([writer.write(long), writer.write(short)]);
  await vi.waitFor(() => expect(read).toEqual([short, long]));
});
