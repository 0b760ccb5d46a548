import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test, vi } from 'vitest';
import type { SemanticTokens, SemanticTokensDelta } from 'vscode-languageserver';
import { textMateGrammar } from '#grammar/contributions.ts';
import { tokensLegend } from '#server/lsp/coloured-lines.ts';
import { LinePieces } from '#server/lsp/line-pieces.ts';
import { FileTokens, tokensIn } from '#server/lsp/semantic-tokens.ts';
import { anyLine } from '../support/lines.ts';
import { answerOf, type Folder, folderOf } from '../support/view.ts';

/** `graft keyword`: each piece of the text that has a colour, with its kind. */
function named(folder: Folder, data: readonly number[]): string[] {
  const pieces: string[] = [];
  let [line, character] = [0, 0];
  for (let i = 0; i < data.length; i += 5) {
    const [down = 0, along = 0, length = 0, type = 0, modifiers = 0] = data.slice(i, i + 5);
    character = down > 0 ? along : character + along;
    line += down;
    const text = folder
      .view()
      .document.entryAt(line)
      ?.line.text.slice(character, character + length);
    pieces.push(`${text} ${tokensLegend.tokenTypes[type]}${modifiers ? ' declared' : ''}`);
  }
  return pieces;
}
const tokensOf = (log: string) => {
  const folder = folderOf(log);
  return named(folder, answerOf(new FileTokens().full(folder.view()))?.data ?? []);
};

/** All colours of a file, worked out by a server that knows none. */
const afresh = (folder: Folder): number[] => [...(answerOf(new FileTokens().full(folder.view()))?.data ?? [])];

/** What a client has, once it has put in what it was sent. */
function changed(had: readonly number[], sent: SemanticTokens | SemanticTokensDelta | null): number[] {
  if (!sent || !('edits' in sent)) return [...(sent?.data ?? [])];
  const data = [...had];
  for (const { start, deleteCount, data: put } of sent.edits) data.splice(start, deleteCount, ...(put ?? []));
  return data;
}

describe('tokens', () => {
  test('of a line of work: what each word is', () => {
    expect(
      tokensOf(
        '2026-10-09 8:30 graft K26.1..11,14  cut 40%  under  onto T14  by mk,jo  Pinus mugo \'Gala\'  "left"  # ok\ntree T14',
      ).slice(0, -2),
    ).toEqual([
      '2026-10-09 number',
      '8:30 number',
      'graft keyword',
      'K26 class',
      '.1..11,14 number',
      'cut property',
      '40% number',
      'under enumMember',
      'onto property',
      'T14 struct',
      'by property',
      'mk parameter',
      'jo parameter',
      'Pinus mugo type',
      "'Gala' string",
      '"left" string',
      '# ok comment',
    ]);
  });
  test('names by what they are in the whole log; what nothing declares has no colour', () => {
    expect(
      tokensOf(
        'place frame\nbatch K26 in frame\n2027-03-20 move K26 rest except K26.3 to yard\n2026-09-01 collect L7',
      ).filter((piece) => !/keyword|number|property/.test(piece)),
    ).toEqual([
      'frame namespace declared',
      'K26 class declared',
      'frame namespace',
      'K26 class',
      'rest operator',
      'except operator',
      'K26 class',
      'L7 interface declared',
    ]);
  });
  test('rules and what is accepted', () => {
    expect(
      tokensOf('practice side,cleft  cut 30..50%  warning\naccept cut-deep K26.1 "thin"\n2026-10-09 graft K26.1'),
    ).toEqual([
      'practice keyword',
      'side,cleft enumMember',
      'cut property',
      '30..50% number',
      'warning enumMember',
      'accept keyword',
      'cut-deep enumMember',
      'K26 class',
      '.1 number',
      '"thin" string',
      '2026-10-09 number',
      'graft keyword',
      'K26 class',
      '.1 number',
    ]);
  });
  test('the lines in sight cost no more than themselves, and are coloured as in the whole', () => {
    const log = Array.from({ length: 300 }, (_, i) => `2026-10-09 graft K26.${i + 1} cut 40% # ${i}`).join('\n');
    const folder = folderOf(log);
    const range = { start: { line: 100, character: 0 }, end: { line: 102, character: 0 } };
    const some = named(folder, tokensIn(folder.view(), range).data);
    expect(some).toEqual(tokensOf(log).slice(100 * 7, 103 * 7));
  });
  test('after a key only what changed is sent', () => {
    const folder = folderOf(Array.from({ length: 300 }, (_, i) => `2026-10-09 graft K26.${i + 1} cut 40%`).join('\n'));
    folder.root.open.set('log.graft', 1);
    const tokens = new FileTokens();
    const first = answerOf(tokens.full(folder.view()));
    const at = { line: 150, character: 0 };
    folder.root.edit('log.graft', { start: at, end: at }, '# one more\n');
    const delta = answerOf(tokens.delta(folder.view(), first?.resultId ?? ''));
    const edits = delta && 'edits' in delta ? delta.edits : [];
    expect(edits.reduce((sum, { data }) => sum + (data?.length ?? 0), 0)).toBeLessThan(20);
    expect(changed(first?.data ?? [], delta)).toEqual(afresh(folder));
    tokens.closed(folder.view().uri);
    expect(answerOf(tokens.delta(folder.view(), delta?.resultId ?? ''))).toHaveProperty('data');
  });
  test('whatever is typed, what was kept and what is sent is the whole worked out anew', () => {
    const line = fc.oneof(anyLine, fc.constantFrom('', 'batch K26', 'take K26.1', 'place frame', 'tree K26'));
    const text = fc.array(line, { maxLength: 3 }).map((lines) => lines.join('\n').replaceAll('\r', ''));
    const edit = fc.record({ from: fc.nat(12), lines: fc.nat(3), at: fc.nat(4), text, whole: fc.boolean() });
    fc.assert(
      fc.property(text, text, fc.array(edit, { maxLength: 8 }), (here, elsewhere, edits) => {
        const folder = folderOf({ 'log.graft': here, 'other.graft': elsewhere });
        folder.root.open.set('log.graft', 1);
        const tokens = new FileTokens();
        let sent: SemanticTokens | SemanticTokensDelta | null = answerOf(tokens.full(folder.view()));
        let had = changed([], sent);
        for (const { from, lines, at, text: put, whole } of edits) {
          // names of this file may be given in the other
          const file = at === 4 ? 'other.graft' : 'log.graft';
          const range = { start: { line: from, character: at }, end: { line: from + lines, character: 0 } };
          folder.root.log.applyEdit(file, range, put);
          sent = answerOf(whole ? tokens.full(folder.view()) : tokens.delta(folder.view(), sent?.resultId ?? ''));
          had = changed(had, sent);
          expect(had).toEqual(afresh(folder));
        }
      }),
      { numRuns: 400 },
    );
  });
  test('of lines that stay only their names are asked again: a key costs what it changes', () => {
    const folder = folderOf(Array.from({ length: 300 }, (_, i) => `2026-10-09 graft K26.${i + 1} cut 40%`).join('\n'));
    folder.root.open.set('log.graft', 1);
    const tokens = new FileTokens();
    const before = answerOf(tokens.full(folder.view()))?.resultId ?? '';
    const read = vi.spyOn(LinePieces.prototype, 'read');
    const at = { line: 150, character: 0 };
    folder.root.edit('log.graft', { start: at, end: at }, 'x');
    answerOf(tokens.delta(folder.view(), before));
    answerOf(tokens.full(folder.view()));
    expect(read).toHaveBeenCalledTimes(1);
    read.mockRestore();
  });
  test('a client that has them as JSON or as a copy has plain numbers', () => {
    const folder = folderOf('2026-10-09 graft K26.1');
    const sent = answerOf(new FileTokens().full(folder.view()));
    const { data } = JSON.parse(JSON.stringify(sent));
    expect(data).toEqual([0, 0, 10, 3, 0, 0, 11, 5, 0, 0, 0, 6, 3, 9, 0, 0, 3, 2, 3, 0]);
    // as a worker's client does
    expect([...new Uint32Array(structuredClone(sent)?.data ?? [])]).toEqual(data);
  });
  test('of a file longer than any season’s only the lines in sight', () => {
    const folder = folderOf('# x\n'.repeat(20_001));
    expect(answerOf(new FileTokens().full(folder.view()))).toBe(null);
  });
});

test('each kind has the colour that the grammar gives without a server', () => {
  const manifest = JSON.parse(readFileSync(resolve(import.meta.dirname, '../../package.json'), 'utf8'));
  const scopes: Record<string, string[]> = manifest.contributes.semanticTokenScopes[0].scopes;
  expect(Object.keys(scopes).sort()).toEqual([...tokensLegend.tokenTypes].sort());
  const grammar = JSON.stringify(textMateGrammar());
  expect(
    Object.values(scopes)
      .flat()
      .filter((scope) => !grammar.includes(`"${scope}"`)),
  ).toEqual([]);
});
