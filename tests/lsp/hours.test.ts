import { execFileSync } from 'node:child_process';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, test } from 'vitest';
import type { SheetResult, WorkList } from '#server/lsp/protocol.ts';
import { startServer } from '../support/server.ts';

const nursery = resolve(import.meta.dirname, '../../examples/drumlin-lane');
const listed = async (settings: Record<string, unknown>) => {
  const folder = pathToFileURL(nursery).href;
  const server = await startServer({ folder, settings: { today: '2025-06-20', ...settings } });
  const [list] = await server.connection.sendRequest<WorkList[]>('graftlog/work', {});
  const sheet = await server.connection.sendRequest<SheetResult>('graftlog/sheet', {});
  expect(await server.stop()).toBe(0);
  return { hours: list?.hours, html: sheet?.html ?? '' };
};

test('the hours there are stand beside those the week asks, as the command line has them', async () => {
  const cli = join(import.meta.dirname, '../../dist/cli.js');
  const args = [cli, 'due', '--on', '2025-06-20', '--hours', '6'];
  const printed = execFileSync(process.execPath, args, { cwd: nursery, encoding: 'utf8' });
  const [, taken, there] = /^20–22 Jun: (.+?) of (.+?)(?:,|$)/m.exec(printed) ?? [];
  const { hours, html } = await listed({ hours: 6 });
  expect(taken).toBeDefined();
  expect(hours).toMatch(new RegExp(`^${taken} of ${there} till 22 Jun`));
  expect(html).toContain(`Hours of work: ${hours}.`);
});

test('where nobody said how many there are, nothing is said of them', async () => {
  for (const hours of [0, undefined]) {
    const list = await listed({ hours });
    expect(list.hours).toBeUndefined();
    expect(list.html).not.toContain('Hours of work');
  }
});
