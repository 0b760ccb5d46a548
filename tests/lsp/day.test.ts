import { PassThrough } from 'node:stream';
import { expect, test } from 'vitest';
import { createConnection } from 'vscode-languageserver/node';
import {
  createProtocolConnection,
  type Diagnostic,
  PublishDiagnosticsNotification,
} from 'vscode-languageserver-protocol/node';
import { toDay } from '#grammar/values/date.ts';
import type { WorkList } from '#server/lsp/protocol.ts';
import { startServer } from '#server/lsp/server.ts';
import type { Host } from '#server/workspace/host.ts';
import { hostServer, memoryHost } from '../support/hosted-server.ts';
import { codesOf } from '../support/server.ts';

/** Enough on a busy machine; a wait ends as soon as it is so. */
const patience = { timeout: 10_000 };

test('a server that runs overnight tells the log anew in the morning', async () => {
  let today = toDay(2026, 10, 8);
  const waiting = new Set<() => void>();
  const host: Host = {
    list: async () => [],
    read: async () => undefined,
    readNamed: async () => ({ unread: 'missing' }),
    today: () => today,
    now: () => performance.now(),
    later(_, run) {
      waiting.add(run);
      return () => waiting.delete(run);
    },
    pause: async () => {},
  };
  /** All that waits for its time has its time. */
  const timePasses = async () => {
    for (const run of [...waiting]) {
      waiting.delete(run);
      run();
    }
    // a look at a log goes on in slices
    await new Promise((done) => setImmediate(done));
  };
  const [there, back] = [new PassThrough(), new PassThrough()];
  startServer(createConnection(there, back), host);
  const client = createProtocolConnection(back, there);
  let found: Diagnostic[] = [];
  let sent = 0;
  client.onNotification(PublishDiagnosticsNotification.type, ({ diagnostics }) => {
    found = diagnostics;
    sent++;
  });
  client.listen();
  await client.sendRequest('initialize', { processId: null, rootUri: null, capabilities: {} });
  await client.sendNotification('initialized', {});
  await client.sendNotification('textDocument/didOpen', {
    textDocument: {
      uri: 'untitled:log.graft',
      languageId: 'graft',
      version: 1,
      text: 'batch K26 Pinus mugo / Pinus sylvestris cleft\n2026-10-09\ngraft K26.1 cut 40% frost-free film\n',
    },
  });
  await expect.poll(() => codesOf(found), patience).toEqual(['3 future-date']);
  // the day turns while the log is still being looked at
  void timePasses();
  today++;
  await timePasses();
  await expect.poll(() => codesOf(found), patience).toEqual([]);
  const before = sent;
  await timePasses();
  await client.sendRequest('shutdown');
  expect(sent).toBe(before);
  // nothing is left to run after the server was told to stop
  expect(waiting.size).toBe(0);
});

test('a day set for a demonstration holds until the setting is taken back', async () => {
  let settings: Record<string, unknown> = { today: '2027-06-01' };
  const server = await hostServer(
    memoryHost(new Map([['file:///logs/log.graft', 'batch K26  Pinus mugo\n']])),
    ['file:///logs'],
    { workspace: { configuration: true, didChangeConfiguration: { dynamicRegistration: true } } },
    (connection) => {
      connection.onRequest('workspace/configuration', ({ items }: { items: unknown[] }) => items.map(() => settings));
      connection.onRequest('client/registerCapability', () => null);
    },
  );
  const day = async () => (await server.connection.sendRequest<WorkList[]>('graftlog/work', {}))[0]?.on;
  expect(await day()).toBe('2027-06-01');
  for (const today of ['', null]) {
    settings = { today };
    await server.connection.sendNotification('workspace/didChangeConfiguration', { settings: null });
    await expect.poll(day, patience).toBe('2027-04-06');
    settings = { today: '2027-06-01' };
    await server.connection.sendNotification('workspace/didChangeConfiguration', { settings: null });
    await expect.poll(day, patience).toBe('2027-06-01');
  }
  server.stop();
});
