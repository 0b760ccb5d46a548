import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { CodeLens, Hover } from 'vscode-languageserver-protocol';
import type { Group } from '#server/engine/figures/groups.ts';
import { figuresText } from '#server/engine/say.ts';
import type { FigureChoices, FiguresAsked } from '#server/lsp/protocol.ts';
import { type Server, startServer } from '../support/server.ts';
import { cli } from '../support/terminal.ts';

const folder = 'examples/drumlin-lane';
const day = '2025-06-20';
const printed = (...args: string[]): string =>
  execFileSync(process.execPath, [cli, ...args, '--on', day], { cwd: folder, encoding: 'utf8' });

describe('figures in the editor are those of the command line', () => {
  let server: Server;
  const root = pathToFileURL(folder).href;
  const file = `${root}/2023.graft`;
  beforeAll(async () => {
    server = await startServer({ folder: root, settings: { today: day } });
    await server.open(file, readFileSync(`${folder}/2023.graft`, 'utf8'));
  });
  afterAll(async () => {
    expect(await server.stop()).toBe(0);
  });
  const asked = (question: FiguresAsked) =>
    server.connection.sendRequest<string | null>('graftlog/figures', { uri: file, asked: question });

  test('Compare is the page of `stats`', async () => {
    expect(await asked({ kind: 'compare', keys: ['method', 'hand'] })).toBe(
      printed('stats', '--by', 'method,hand', '--compare', 'method,hand'),
    );
  });

  test('Plan next season is the page of `plan`', async () => {
    expect(await asked({ kind: 'plan', takes: 60, like: 'P23', hours: 6 })).toBe(
      printed('plan', '--takes', '60', '--like', 'P23', '--hours', '6'),
    );
    expect(await asked({ kind: 'plan', takes: 5, like: 'Z9' })).toContain('Nothing grafted so far is called Z9.');
  });

  test('what can be asked: keys with two ways, pairs and batches', async () => {
    const choices = await server.connection.sendRequest<FigureChoices>('graftlog/figureChoices', { uri: file });
    expect(choices.uri).toBe(root);
    const keys = choices.keys.map(({ key }) => key);
    expect(keys).toEqual(expect.arrayContaining(['batch', 'pair', 'method', 'season', 'hand', 'depth']));
    expect(choices.keys.find(({ key }) => key === 'season')).toMatchObject({
      noun: 'season',
      ways: expect.stringMatching(/autumn.*spring/),
    });
    expect(choices.like.filter(({ kind }) => kind === 'pair').length).toBeGreaterThan(5);
    expect(choices.like.find(({ name }) => name === 'F23')).toMatchObject({
      kind: 'batch',
      figures: 'take 63\u00A0% (55–70)',
    });
  });

  test('the lens of every batch', async () => {
    const { groups } = JSON.parse(printed('stats', '--format', 'json')) as { groups: Group[] };
    const lenses = await server.connection.sendRequest<CodeLens[]>('textDocument/codeLens', {
      textDocument: { uri: file },
    });
    const titles = lenses.map(({ command }) => command?.title);
    const here = groups.filter(({ key }) => key.batch?.endsWith('23'));
    expect(here.length).toBeGreaterThan(4);
    for (const group of here) expect(titles).toContain(figuresText(group));
  });

  test('the hover: causes, those to judge, and the others of the pair', async () => {
    const lines = readFileSync(`${folder}/2023.graft`, 'utf8').split('\n');
    const line = lines.findIndex((text) => /^batch +F23/.test(text));
    const found = await server.connection.sendRequest<Hover>('textDocument/hover', {
      textDocument: { uri: file },
      position: { line, character: (lines[line] ?? '').indexOf('F23') + 1 },
    });
    const text = (found.contents as { value: string }).value.replaceAll('\\', '').replaceAll('\u00A0', ' ');
    expect(text).toContain('88 taken · 52 lost · take 63 % (55–70)');
    expect(text).toContain('Lost: 52 dried');
    expect(text).toMatch(/Same pair: F22 take 55 % \(47–63\), F24 take 60 % \(52–67\), F25 not judged yet\./);
    const pair = printed('stats', '--by', 'pair').replaceAll('\u00A0', ' ').replace(/\s+/g, ' ');
    const usual = /tell no more than \d+ separate grafts would: the usual rate lies between \d+ and \d+ %/.exec(
      text.replace(/\s+/g, ' '),
    );
    expect(usual).not.toBeNull();
    expect(pair).toContain(usual?.[0]);
    expect(text.split('\n\n').length).toBeLessThanOrEqual(8);
  });
});
