import { expect, test } from 'vitest';
import type { WriteLineResult } from '#server/lsp/protocol.ts';
import { hostServer, memoryHost } from '../support/hosted-server.ts';

/** The log as it reads once the line was written into the file asked for; the day is 6 April 2027. */
async function written(files: Record<string, string>, asked: string, text: string) {
  const texts = new Map(Object.entries(files).map(([name, log]) => [`file:///n/${name}`, log]));
  const server = await hostServer(memoryHost(texts), ['file:///n']);
  await server.connection.sendRequest('graftlog/work', {});
  const uri = `file:///n/${asked}`;
  const place = await server.connection.sendRequest<WriteLineResult>('graftlog/writeLine', { uri, text });
  server.stop();
  if (!place) return null;
  const lines = (texts.get(place.uri) ?? '').split('\n');
  const before = lines.slice(0, place.line).join('\n');
  const at = place.line >= lines.length ? before : before + (place.line > 0 ? '\n' : '');
  const log = at + place.text + lines.slice(place.line).join('\n');
  return {
    file: place.uri.replace('file:///n/', ''),
    log,
    line: log.split('\n')[place.written],
    problem: place.problem,
  };
}
const line = 'open  K26.1..4  15%';
const laidOut = 'open     K26.1..4  15%';

test('a new day at the end of the file, set off as the days before it, the line laid out', async () => {
  const day = `2027-03-20\nswell K26\n\n2027-04-06\n${laidOut}`;
  for (const log of ['2027-03-20\nswell K26', '2027-03-20\nswell K26\n', '2027-03-20\nswell K26\n\n']) {
    const result = await written({ 'a.graft': log }, 'a.graft', line);
    expect(result?.log.trimEnd()).toBe(day);
    expect(result?.line).toBe(laidOut);
  }
  const close = await written({ 'a.graft': '# Drumlin Lane\n2027-03-20\nswell K26\n' }, 'a.graft', line);
  expect(close?.log).toBe(`# Drumlin Lane\n2027-03-20\nswell K26\n2027-04-06\n${laidOut}\n`);
  expect((await written({ 'a.graft': '' }, 'a.graft', line))?.log.trim()).toBe(`2027-04-06\n${laidOut}`);
});

test('below what the day has already, before a blank line or the next day', async () => {
  const result = await written(
    { 'a.graft': '2027-04-06\nswell K26\n\n# later\n2027-04-07\ncheck K26\n' },
    'a.graft',
    line,
  );
  expect(result?.log).toBe(`2027-04-06\nswell K26\n${laidOut}\n\n# later\n2027-04-07\ncheck K26\n`);
  expect(result?.line).toBe(laidOut);
  expect((await written({ 'a.graft': '2027-04-06\nswell K26' }, 'a.graft', line))?.log).toBe(
    `2027-04-06\nswell K26\n${laidOut}`,
  );
});

test('last year’s file stays last year’s: the line goes where this year is written', async () => {
  const files = { '2026.graft': '2026-10-09\ngraft K26.1..4\n', '2027.graft': '2027-03-20\nswell K26\n' };
  expect((await written(files, '2026.graft', line))?.file).toBe('2027.graft');
  // each batch may have a file of its own
  const each = { 'a.graft': '2027-03-01\nswell A\n', 'b.graft': '2027-03-20\nswell B\n' };
  expect((await written(each, 'a.graft', line))?.file).toBe('a.graft');
  expect((await written({ '2026.graft': files['2026.graft'] }, '2026.graft', line))?.file).toBe('2026.graft');
});

test('what can’t be read is said before it is written', async () => {
  const problem = async (text: string) =>
    (await written({ 'a.graft': '2027-03-20\nswell K26\n' }, 'a.graft', text))?.problem;
  expect(await problem(line)).toBeUndefined();
  expect(await problem('opne  K26.1..4  15%')).toContain('Is it `open`?');
  expect(await problem('')).toContain('begins with its verb');
  expect(await problem('# only a remark')).toContain('begins with its verb');
  expect(await problem('open K26 15%\nopen K27 15%')).not.toBeUndefined();
});
