import { PassThrough } from 'node:stream';
import { expect, test } from 'vitest';
import { createConnection } from 'vscode-languageserver/node';
import {
  createProtocolConnection,
  type Diagnostic,
  PublishDiagnosticsNotification,
} from 'vscode-languageserver-protocol/node';
import { toDay } from '#grammar/values/date.ts';
import { startServer } from '#server/lsp/server.ts';
import type { Host } from '#server/workspace/host.ts';
import { codesOf } from '../support/server.ts';

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
  const timePasses = () => {
    for (const run of [...waiting]) {
      waiting.delete(run);
      run();
    }
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
  await expect.poll(() => codesOf(found)).toEqual(['3 future-date']);
  timePasses();
  today++;
  timePasses();
  await expect.poll(() => codesOf(found)).toEqual([]);
  const before = sent;
  timePasses();
  await client.sendRequest('shutdown');
  expect(sent).toBe(before);
  // nothing is left to run after the server was told to stop
  expect(waiting.size).toBe(0);
});
