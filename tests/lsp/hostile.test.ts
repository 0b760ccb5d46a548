import { mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, onTestFinished, test } from 'vitest';
import type { CompletionList, Hover } from 'vscode-languageserver-protocol';
import { type Server, startServer } from '../support/server.ts';

/* A log that came from somebody else: what it says is text in the editor, and where it points stays closed. */

const link = '` [click](command:workbench.action.quit) <img src=x onerror=alert(1)> ![](https://example.org/x.png)';
const log = `site Drumlin-Lane lat 47.90
place frame  frost-free shade wind-break
tree T3 Pinus mugo '${link}' in frame
batch K26  Pinus mugo '${link}' / Pinus sylvestris  side-veneer  film  in frame  lot L7  "${link}"
practice K26  cut 30..50%  source "${link}"
2026-09-28  collect L7  from T3  in frame
2026-10-09
graft K26.1..12  cut 22%  stock 9mm  scion 4mm x 90mm  tie "${link}"  by mk  "${link}"
check K26  "${link}"
fail K26.3  "${link}"
`;

async function started(folder: string, text: string): Promise<{ server: Server; uri: string }> {
  const server = await startServer({ folder: pathToFileURL(folder).href, settings: { today: '2027-04-06' } });
  onTestFinished(() => void server.process.kill('SIGKILL'));
  const uri = pathToFileURL(join(folder, 'log.graft')).href;
  await server.open(uri, text);
  await server.diagnostics(uri, (found) => found.length > 0);
  return { server, uri };
}

function folderWith(files: Readonly<Record<string, string>>): string {
  const folder = mkdtempSync(join(tmpdir(), 'graftlog-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  return folder;
}

/** A link, a picture or an element that a viewer of Markdown would make of it; of our own only pages and drawings. */
const followed = /(?<!\\)\]\((?!data:image\/svg|file:)|(?<!\\)<[a-z!/]|(?<!\\)!\[[^\]]*\]\((?!data:)/i;

/** Between backticks all is text. */
const besideCode = (markdown: string) => markdown.replace(/(?<!\\)(`+)[^`]+\1/g, '');

test('a hover over any word holds no link, picture or element of the log’s, and none to a command', async () => {
  const { server, uri } = await started(folderWith({ 'log.graft': log }), log);
  let seen = 0;
  for (const [line, text] of log.split('\n').entries())
    for (let character = 0; character < text.length; character += 3) {
      const at = { textDocument: { uri }, position: { line, character } };
      const hover = await server.connection.sendRequest<Hover | null>('textDocument/hover', at);
      if (!hover) continue;
      const { value } = hover.contents as { value: string };
      expect(besideCode(value)).not.toMatch(followed);
      if (value.includes('click')) seen++;
    }
  expect(seen).toBeGreaterThan(0);
}, 60_000);

test('an offer’s page neither', async () => {
  const { server, uri } = await started(folderWith({ 'log.graft': log }), `${log}check `);
  const at = { textDocument: { uri }, position: { line: log.split('\n').length - 1, character: 6 } };
  const { items } = await server.connection.sendRequest<CompletionList>('textDocument/completion', at);
  expect(items.length).toBeGreaterThan(0);
  for (const item of items) {
    const whole = await server.connection.sendRequest<typeof item>('completionItem/resolve', item);
    const page = whole.documentation;
    expect(besideCode(typeof page === 'object' ? page.value : (page ?? ''))).not.toMatch(followed);
  }
});

test('a link among the logs that leads out of the folder is not read', async () => {
  const outside = folderWith({ 'secret.graft': 'batch SECRET26 Pinus mugo\n' });
  const folder = folderWith({ 'log.graft': log });
  symlinkSync(join(outside, 'secret.graft'), join(folder, 'in.graft'));
  symlinkSync(outside, join(folder, 'years'));
  const { server } = await started(folder, log);
  await server.connection.sendNotification('workspace/didChangeWatchedFiles', {
    changes: ['in.graft', 'years/secret.graft'].map((name) => ({
      uri: pathToFileURL(join(folder, name)).href,
      type: 1 as const,
    })),
  });
  const symbols = await server.connection.sendRequest<{ name: string }[]>('workspace/symbol', { query: '' });
  const names = symbols.map(({ name }) => name);
  expect(names).toContain('K26');
  expect(names).not.toContain('SECRET26');
});
