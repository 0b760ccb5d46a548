import { describe, expect, test } from 'vitest';
import type { CodeAction } from 'vscode-languageserver-protocol';
import type { SplitResult } from '#server/lsp/protocol.ts';
import { refactorActions, resolvedAction, splitNamed } from '#server/lsp/refactor.ts';
import { edited } from '../support/edited.ts';
import { startServer } from '../support/server.ts';
import { caretIn, type Folder, folderOf } from '../support/view.ts';

const log = `batch    K26  Pinus mugo  side-veneer  # white
2026-10-09
graft    K26.1..11  cut 40%  film 38mm  by mk  # one
graft    K26.12,14  cut 30%  film 38mm  by mk
2027-03-24
vent     K26.1..12  20%
open     K26.14  10%
`;
const eager = { resolves: false, asks: false };
const invoked = { triggerKind: 1 } as const;

/** The log with a line as it is given, a caret `|` in it: of the others all stays. */
function at(line: string): { readonly folder: Folder; readonly position: { line: number; character: number } } {
  const plain = line.replace('|', '');
  const { text, position } = caretIn(log.replace(plain, line));
  return { folder: folderOf(text), position };
}

function actions(
  line: string,
  context: Parameters<typeof refactorActions>[2] = invoked,
  options = eager,
): CodeAction[] {
  const { folder, position } = at(line);
  return refactorActions(folder.view(), { start: position, end: position }, context, options);
}

const titles = (...asked: Parameters<typeof actions>) =>
  actions(...asked).map(({ kind, title }) => `${kind}: ${title}`);

/** The lines that an action gives another text. */
function changed(line: string, title: string): string[] {
  const action = actions(line).find((one) => one.title === title);
  const edits = action?.edit?.changes?.['file:///log/log.graft'] ?? [];
  const before = log.split('\n');
  return edited(log, edits)
    .split('\n')
    .filter((text) => !before.includes(text));
}

describe('other ways to write the same', () => {
  test('grafts split off a range', () => {
    expect(titles('open     K26.14|  10%')).not.toContainEqual(expect.stringMatching(/Split/));
    expect(titles('graft    K26.1..11|  cut 40%  film 38mm  by mk  # one')).toContain(
      'refactor.extract.grafts: Split K26.11 off',
    );
    expect(changed('graft    K26.12,|14  cut 30%  film 38mm  by mk', 'Split K26.14 off')).toEqual([
      'graft    K26.12  cut 30%  film 38mm  by mk',
      'graft    K26.14  cut 30%  film 38mm  by mk',
    ]);
  });

  test('shared facts, from a graft line or from the batch’s', () => {
    const title = 'Move shared facts up to K26';
    for (const line of [
      'batch    K26|  Pinus mugo  side-veneer  # white',
      'graft    K26.12,14  cut 30%|  film 38mm  by mk',
    ])
      expect(changed(line, title), line).toEqual([
        'batch    K26  Pinus mugo  side-veneer  film 38mm  by mk  # white',
        'graft    K26.1..11  cut 40%  # one',
        'graft    K26.12,14  cut 30%',
      ]);
  });

  test('the carried day, of a line and of a selection', () => {
    expect(changed('open     K26.14  10%|', 'Write the day on this line')).toEqual([
      '2027-03-24  open     K26.14  10%',
    ]);
    const { folder } = at('|');
    const all = { start: { line: 0, character: 0 }, end: { line: 7, character: 0 } };
    const found = refactorActions(folder.view(), all, invoked, eager).find(
      ({ title }) => title === 'Write the day on each line',
    );
    expect(found?.edit?.changes?.['file:///log/log.graft']).toHaveLength(4);
  });

  test('the notation’s own words', () => {
    expect(changed('vent     K26.1..12|  20%', 'Write open for vent')).toEqual(['open     K26.1..12  20%']);
    expect(titles('open     K26.14|  10%')).toEqual(['refactor.rewrite.dates: Write the day on this line']);
  });
});

describe('when they are offered', () => {
  test('asked for, or by their kind, or on what is selected; the light bulb isn’t lit on every line', () => {
    const line = 'vent     K26.1..12|  20%';
    expect(titles(line, { triggerKind: 2 })).toEqual([]);
    expect(titles(line, { triggerKind: 2, only: ['refactor.rewrite'] })).toEqual([
      'refactor.rewrite.dates: Write the day on this line',
      'refactor.rewrite.words: Write open for vent',
    ]);
    expect(titles(line, { triggerKind: 1, only: ['quickfix'] })).toEqual([]);
    expect(titles(line, { triggerKind: 1, only: ['refactor.extract.grafts'] })).toEqual([
      'refactor.extract.grafts: Split K26.12 off',
    ]);
  });

  test('edits are made out when an action is chosen, where the client asks then', () => {
    const [action] = actions(
      'vent     K26.1..12|  20%',
      { triggerKind: 1, only: ['refactor.rewrite.words'] },
      { ...eager, resolves: true },
    );
    expect(action).not.toHaveProperty('edit');
    const { folder } = at('vent     K26.1..12|  20%');
    expect(resolvedAction(action as CodeAction, folder.view()).edit?.changes?.['file:///log/log.graft']).toHaveLength(
      1,
    );
  });
});

describe('which grafts is asked', () => {
  const line = 'vent     K26.1..12|  20%';
  const { folder, position } = at(line);
  const named = (grafts: string) => splitNamed(folder.view(), { uri: 'file:///log/log.graft', ...position, grafts });

  test('in the editor that has our commands', () => {
    const asked = actions(line, invoked, { ...eager, asks: true }).find(({ command }) => command);
    expect(asked?.command).toMatchObject({
      command: 'graftlog.splitSet',
      arguments: [{ uri: 'file:///log/log.graft', line: 5, character: 9 }, 'K26.1..12'],
    });
  });

  test('by number, or as a set', () => {
    for (const grafts of ['5, 7..9', 'K26.5,7-9', 'k26.5,7..9'])
      expect(
        edited(log, (named(grafts) as { changes: Record<string, never[]> }).changes['file:///log/log.graft'] ?? []),
      ).toContain('vent     K26.1..4,6,10..12  20%\nvent     K26.5,7..9  20%\n');
  });

  test('what is no part of it is said', () => {
    const why = (grafts: string) => (named(grafts) as { why: string }).why;
    expect(why('B26.5')).toBe('B26.5 is no part of K26.1..12: name some of its grafts, not all.');
    expect(why('13')).toContain('K26.13 is no part');
    expect(why('1..12')).toContain('not all');
    expect(why('')).toContain('Nothing is no part');
    expect(why('9999999999')).toContain('is no part');
    expect(why('<b>')).toContain('is no part');
  });
});

test('over the protocol', async () => {
  const server = await startServer();
  expect(server.initialized.capabilities.codeActionProvider).toMatchObject({
    codeActionKinds: expect.arrayContaining(['refactor.extract.grafts', 'refactor.move.facts']),
    resolveProvider: true,
  });
  const uri = 'untitled:log.graft';
  await server.open(uri, log);
  const position = { line: 5, character: 18 };
  const found = await server.connection.sendRequest<CodeAction[]>('textDocument/codeAction', {
    textDocument: { uri },
    range: { start: position, end: position },
    context: { diagnostics: [], only: ['refactor'], triggerKind: 1 },
  });
  expect(found.map(({ title }) => title)).toEqual([
    'Split K26.12 off',
    'Write the day on this line',
    'Write open for vent',
  ]);
  expect(edited(log, found[0]?.edit?.changes?.[uri] ?? [])).toContain('K26.1..11  20%\nvent     K26.12  20%\n');
  const split = await server.connection.sendRequest<SplitResult>('graftlog/split', { uri, ...position, grafts: '3' });
  expect(split).toHaveProperty('changes');
  expect(await server.stop()).toBe(0);
});
