import { expect, test } from 'vitest';
import { hostServer, memoryHost } from '../support/hosted-server.ts';
import { codesOf } from '../support/server.ts';

const [a, b] = ['file:///n/a.graft', 'file:///n/b.graft'];
const open = (uri: string, text: string) => ({ textDocument: { uri, languageId: 'graft', version: 1, text } });
const typed = (uri: string, line: number, text: string) => ({
  textDocument: { uri, version: 2 },
  contentChanges: [{ range: { start: { line, character: 0 }, end: { line, character: 0 } }, text }],
});

test('a finding leads to the line in another file also when lines were put in above it there', async () => {
  const place = 'place frame  frost-free\n';
  const files = new Map([
    [a, place],
    [b, 'place frame  shade\n'],
  ]);
  const server = await hostServer(memoryHost(files), ['file:///n'], {
    textDocument: { publishDiagnostics: { relatedInformation: true } },
  });
  const leads = () =>
    server.held.get(b)?.[0]?.relatedInformation?.map(({ location }) => [location.uri, location.range.start.line]);
  await server.until(() => leads() !== undefined);
  expect(leads()).toEqual([[a, 0]]);
  await server.connection.sendNotification('textDocument/didOpen', open(a, place));
  await server.connection.sendNotification('textDocument/didChange', typed(a, 0, '# places\n\n'));
  await server.until(() => leads()?.[0]?.[1] === 2);
  server.stop();
});

test('a file opened while the folder is still looked at is told in full at last, from top to bottom', async () => {
  const declared = ['K26', 'B26'].map(
    (name) => `batch ${name}  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm\n`,
  );
  const work = '2027-03-01\ngraft K26.1..4  cut 22%  whorls 2\ngraft B26.1..4  cut 40%  whorls 2\nopne K26 20%\n';
  const files = new Map([
    [a, declared.join('')],
    [b, work],
  ]);
  let clock = 0;
  // so slow a machine that nothing is done within a slice
  const host = { ...memoryHost(files), now: () => (clock += 30) };
  const server = await hostServer(host, ['file:///n']);
  const told = () => codesOf(server.held.get(b) ?? []);
  await server.until(() => told().length > 1);
  const whole = told();
  expect(whole).toEqual(['2 cut-shallow', '4 unknown-word']);
  await server.connection.sendNotification('textDocument/didOpen', open(a, declared.join('')));
  await server.connection.sendNotification('textDocument/didChange', typed(a, 2, 'batch C26\n'));
  await server.connection.sendNotification('textDocument/didOpen', open(b, work));
  await server.until(() => told()[0] !== whole[0]);
  await server.until(() => told().join() === whole.join());
  server.stop();
});
