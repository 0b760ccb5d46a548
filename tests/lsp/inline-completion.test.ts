import { afterAll, beforeAll, expect, test } from 'vitest';
import { inlineCompletion } from '#server/lsp/inline-completion.ts';
import { type Server, startServer } from '../support/server.ts';
import { caretIn, folderOf } from '../support/view.ts';

const batch = 'batch    K26  Pinus mugo / Pinus sylvestris  side-veneer  film 38mm\n\n2026-10-09\n';
const offered = (lines: string) => {
  const { text, position } = caretIn(`${batch}${lines}`);
  return inlineCompletion(folderOf(text, '2026-10-09').view(), position).map(({ insertText }) => insertText);
};

test('on the empty line below a graft the next one, with the facts of the last', () => {
  expect(offered('graft    K26.12  cut 40%  whorls 2  by mk\n|')).toEqual([
    'graft    K26.13  cut 40%  whorls 2  by mk',
  ]);
  expect(offered('graft    K26.1..11  cut 40%  photo "a.jpg"\n  |')).toEqual(['graft    K26.12  cut 40%']);
});

test('numbers keep for life: the next one is free in the whole log', () => {
  expect(offered('graft    K26.5..9\ngraft    K26.1  cut 40%\n|')).toEqual(['graft    K26.10  cut 40%']);
});

test('nothing elsewhere: on a line that is begun, below other work, below grafts by count', () => {
  expect(offered('graft    K26.12  cut 40%\ngr|')).toEqual([]);
  expect(offered('check    K26.12  green\n|')).toEqual([]);
  expect(offered('graft    K26 x4  cut 40%\n|')).toEqual([]);
});

let server: Server;
beforeAll(async () => {
  server = await startServer();
});
afterAll(() => server.stop());

test('over the protocol', async () => {
  const uri = 'untitled:inline.graft';
  await server.open(uri, `${batch}graft    K26.12  cut 40%\n`);
  const asked = { textDocument: { uri }, position: { line: 4, character: 0 }, context: { triggerKind: 2 } };
  expect(await server.connection.sendRequest('textDocument/inlineCompletion', asked)).toMatchObject([
    { insertText: 'graft    K26.13  cut 40%' },
  ]);
});
