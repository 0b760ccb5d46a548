import { afterAll, beforeAll, expect, test } from 'vitest';
import type { TextEdit } from 'vscode-languageserver-protocol';
import { edited } from '../support/edited.ts';
import { type Server, startServer } from '../support/server.ts';

const uri = 'untitled:log.graft';
const log = `2026-10-09
graft K26.1-11 cut 40 %, whorls 2 # the first tray
graft    K26.12     cut 50..30% under
take K26
open   K26 20
`;
let server: Server;
beforeAll(async () => {
  server = await startServer();
  await server.open(uri, log);
});
afterAll(async () => {
  await server.stop();
});

const ask = (method: string, params: object = {}) =>
  server.connection.sendRequest<TextEdit[]>(`textDocument/${method}`, {
    textDocument: { uri },
    options: { tabSize: 2, insertSpaces: true },
    ...params,
  });

test('a whole file is laid out by edits inside its words; a line that can’t be read is left alone', async () => {
  const edits = await ask('formatting');
  expect(edited(log, edits)).toBe(`2026-10-09
graft    K26.1..11  cut 40%  whorls 2  # the first tray
graft    K26.12     cut 30..50%  under
take     K26
open   K26 20
`);
  // no line is replaced as a whole: a caret in it stays where it is
  expect(
    edits.every(({ range, newText }) => range.end.character - range.start.character < 7 && newText.length < 7),
  ).toBe(true);
});

test('of a range only its lines', async () => {
  const edits = await ask('rangeFormatting', {
    range: { start: { line: 3, character: 2 }, end: { line: 3, character: 2 } },
  });
  expect(edits).toEqual([
    { range: { start: { line: 3, character: 5 }, end: { line: 3, character: 5 } }, newText: '    ' },
  ]);
});

test('Enter lays out the line it finished, and no other', async () => {
  expect(server.initialized.capabilities.documentOnTypeFormattingProvider).toEqual({ firstTriggerCharacter: '\n' });
  const edits = await ask('onTypeFormatting', { position: { line: 2, character: 0 }, ch: '\n' });
  expect(edited(log, edits).split('\n')[1]).toBe('graft    K26.1..11  cut 40%  whorls 2  # the first tray');
  expect(new Set(edits.map(({ range }) => range.start.line))).toEqual(new Set([1]));
  expect(await ask('onTypeFormatting', { position: { line: 0, character: 0 }, ch: '\n' })).toEqual([]);
});

test('of two quick Enters the second lays out what the first had finished', async () => {
  const other = 'untitled:two.graft';
  const text = '2026-10-09\ngraft K26.1-11 cut 40 %\n\n';
  await server.open(other, text);
  const edits = await ask('onTypeFormatting', {
    textDocument: { uri: other },
    position: { line: 3, character: 0 },
    ch: '\n',
  });
  expect(edited(text, edits).split('\n')[1]).toBe('graft    K26.1..11  cut 40%');
});
