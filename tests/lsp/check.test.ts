import { execFileSync } from 'node:child_process';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, test } from 'vitest';
import type { CheckResult } from '#server/lsp/protocol.ts';
import { hostServer, memoryHost } from '../support/hosted-server.ts';
import { startServer } from '../support/server.ts';

test('the task’s lines are those that the command line prints for other programs', async () => {
  const folder = resolve(import.meta.dirname, '../../examples/drumlin-lane');
  const server = await startServer({ folder: pathToFileURL(folder).href, settings: { today: '2025-06-20' } });
  const root = pathToFileURL(folder).href;
  const result = await server.connection.sendRequest<CheckResult>('graftlog/check', { root });
  expect(await server.stop()).toBe(0);
  const args = [join(import.meta.dirname, '../../dist/cli.js'), 'check', '--on', '2025-06-20', '--fail-on', 'never'];
  const printed = execFileSync(process.execPath, args, { cwd: folder, encoding: 'utf8' });
  const lines = result?.lines.map(({ text }) => text) ?? [];
  expect(lines.length).toBeGreaterThan(5);
  expect(`${[...lines, '', result?.sum].join('\n')}\n`).toBe(printed);
});

test('without a log there is nothing to print', async () => {
  const server = await hostServer(memoryHost(new Map()), ['file:///n']);
  expect(await server.connection.sendRequest('graftlog/check', { root: 'file:///n' })).toBe(null);
  server.stop();
});
