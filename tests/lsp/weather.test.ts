import { mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { TrustedNotification } from '#server/lsp/protocol.ts';
import { codesOf, type Server, startServer, type Wishes } from '../support/server.ts';
import { mild } from '../support/weather.ts';

/* `weather` lines as an editor meets them: read from the disk by the built server, and read again when they change. */

const log = `site   Drumlin-Lane  lat 47.90  lon 8.10
place  yard  frost-free shade wind-break
place  lath  shade wind-break
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film
weather "station.csv"  in lath
2026-10-10  graft  A26.1..4  in yard  cut 40%
2026-11-10  move  A26.4  to lath
`;
/** `frost-cover-missing` stands in either case: it is a lath house in November. */
const usual = '7 frost-cover-missing';
const cold = (night: string) => mild('2026-10-01', '2026-12-31', { [night]: -3.1 });

let folder: string;
let server: Server | undefined;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'graftlog-'));
});
afterEach(async () => {
  expect(await server?.stop()).toBe(0);
  server = undefined;
  rmSync(folder, { recursive: true, force: true });
});

const plain = (message: unknown) => String(message).replaceAll('\u00A0', ' ');
const put = (name: string, text: string) => writeFileSync(join(folder, name), text);
const uriOf = (name: string) => pathToFileURL(join(folder, name)).href;
async function started(wishes: Wishes = {}): Promise<Server> {
  put('log.graft', log);
  server = await startServer({
    folder: pathToFileURL(folder).href,
    settings: { today: '2026-12-01' },
    watches: true,
    ...wishes,
  });
  await server.open(uriOf('log.graft'), log);
  return server;
}
const found = async (codes: readonly string[]) =>
  (
    await (server as Server).diagnostics(
      uriOf('log.graft'),
      (all) => JSON.stringify(codesOf(all).sort()) === JSON.stringify([...codes].sort()),
    )
  ).map(({ message }) => plain(message));
const told = (uri: string, type: 1 | 2 | 3) =>
  (server as Server).connection.sendNotification('workspace/didChangeWatchedFiles', { changes: [{ uri, type }] });

test('a frost night of the station is found on opening, with the file it is from', async () => {
  put('station.csv', cold('2026-11-20'));
  await started();
  const all = await (server as Server).diagnostics(uriOf('log.graft'), (list) => list.length === 2);
  const froze = all.find(({ code }) => code === 'froze');
  expect(plain(froze?.message)).toBe(
    '−3.1 °C in `lath` on 20 Nov by the station: A26.4 is in doubt, a tender union dies of frost.',
  );
  expect(froze?.relatedInformation?.map(({ message }) => message)).toContain('By `station.csv`, taken as it is.');
});

test('the file comes, changes and goes: each is noticed, and nothing but the files in use is watched', async () => {
  await started();
  expect(await found([usual, '5 unreadable'])).toContain('There is no file `station.csv` beside this log.');
  put('station.csv', cold('2026-11-20'));
  await told(uriOf('station.csv'), 1);
  await found([usual, '7 froze']);
  put('station.csv', mild('2026-10-01', '2026-12-31'));
  await told(uriOf('station.csv'), 2);
  await found([usual]);
  rmSync(join(folder, 'station.csv'));
  await told(uriOf('station.csv'), 3);
  await found([usual, '5 unreadable']);
  expect((server as Server).watched).toEqual(['**/*.graft', '**/station.csv']);
});

test('an editor that watches no files: the station is looked at when the log is saved', async () => {
  put('station.csv', mild('2026-10-01', '2026-12-31'));
  await started({ watches: false });
  await found([usual]);
  put('station.csv', cold('2026-11-20'));
  await (server as Server).connection.sendNotification('textDocument/didSave', {
    textDocument: { uri: uriOf('log.graft') },
  });
  await found([usual, '7 froze']);
});

test('a change of a file that no line names is not read as a log', async () => {
  put('station.csv', cold('2026-11-20'));
  await started();
  await found([usual, '7 froze']);
  put('other.csv', 'opne K26\n');
  await told(uriOf('other.csv'), 1);
  // nor is a link, which the folder's list passes over
  symlinkSync('other.csv', join(folder, 'link.graft'));
  await told(uriOf('link.graft'), 1);
  const list = await (server as Server).connection.sendRequest<{ files: number }[]>('graftlog/work', {});
  expect(list[0]?.files).toBe(1);
});

test('another path is read when the hand rests, and watched instead', async () => {
  put('station.csv', cold('2026-11-20'));
  put('other.csv', mild('2026-10-01', '2026-12-31'));
  const { change } = await started();
  await found([usual, '7 froze']);
  await change(uriOf('log.graft'), 2, 4, 9, 16, 'other');
  await found([usual]);
  await expect.poll(() => (server as Server).watched).toEqual(['**/*.graft', '**/other.csv']);
});

test('the hover on the path says what was read and for whom it holds, on a place what its station tells', async () => {
  put('station.csv', cold('2026-11-20'));
  await started();
  await found([usual, '7 froze']);
  const over = async (line: number, character: number) => {
    const answer = await (server as Server).connection.sendRequest<{ contents: { value: string } }>(
      'textDocument/hover',
      { textDocument: { uri: uriOf('log.graft') }, position: { line, character } },
    );
    return plain(answer.contents.value.replaceAll('\\', '')).split('\n\n');
  };
  expect(await over(4, 12)).toEqual([
    '**station.csv**',
    '62 days, 1 Oct to 1 Dec',
    'Its nights are told for lath (taken as it is).',
    'No whole years on record: frost dates ask for 3, and the calendar holds.',
    '1 night below 0 °C since 1 Jul, the coldest −3.1 °C on 20 Nov.',
  ]);
  expect(await over(2, 8)).toEqual([
    '**lath** · place',
    '`place lath shade wind-break`',
    'log.graft, line 3',
    'By station.csv, taken as it is.',
    'No whole years on record: frost dates ask for 3, and the calendar holds.',
    '1 night below 0 °C since 1 Jul, the coldest −3.1 °C on 20 Nov.',
  ]);
});

test('in a folder that isn’t trusted it stays unread and is said to; trusted, it is read', async () => {
  put('station.csv', cold('2026-11-20'));
  await started({ options: { trusted: false } });
  expect(await found([usual, '5 unreadable'])).toContain(
    '`station.csv` isn’t read as long as this folder isn’t trusted.',
  );
  await (server as Server).connection.sendNotification(TrustedNotification);
  await found([usual, '7 froze']);
});

test('a log that belongs to no folder has its station beside it', async () => {
  put('station.csv', cold('2026-11-20'));
  server = await startServer({ options: {}, command: ['dist/cli.js', 'lsp', '--on', '2026-12-01'] });
  await server.open(uriOf('log.graft'), log);
  await found([usual, '7 froze']);
});
