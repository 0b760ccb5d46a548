import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { expect, test } from 'vitest';
import { createOnigScanner, createOnigString, loadWASM } from 'vscode-oniguruma';
import { INITIAL, parseRawGrammar, Registry } from 'vscode-textmate';
import { referencePage, textMateGrammar } from '#grammar/contributions.ts';

const generated = '../grammar/generated';

test('generated files are those of the tables (npm test -- -u writes them)', async () => {
  await expect(`${JSON.stringify(textMateGrammar(), null, 2)}\n`).toMatchFileSnapshot(
    `${generated}/graft.tmLanguage.json`,
  );
  await expect(referencePage()).toMatchFileSnapshot(`${generated}/reference.md`);
});

test('words are coloured by what they are, without a server', async () => {
  const wasm = await readFile(createRequire(import.meta.url).resolve('vscode-oniguruma/release/onig.wasm'));
  await loadWASM(wasm.buffer.slice(wasm.byteOffset, wasm.byteOffset + wasm.byteLength));
  const registry = new Registry({
    onigLib: Promise.resolve({ createOnigScanner, createOnigString }),
    loadGrammar: async () => parseRawGrammar(JSON.stringify(textMateGrammar()), 'graft.json'),
  });
  const grammar = await registry.loadGrammar('source.graft');
  const scopes = (line: string) =>
    (grammar?.tokenizeLine(line, INITIAL).tokens ?? [])
      .map(
        (token) =>
          [line.slice(token.startIndex, token.endIndex), token.scopes.at(-1)?.replace(/\.graft$/, '') ?? ''] as const,
      )
      .filter(([text, scope]) => text.trim() !== '' && scope !== 'source');
  expect(scopes('2026-10-09 graft K26.1..11,14  cut 40%  side-veneer  onto T14  "left"  # ok')).toEqual([
    ['2026-10-09', 'constant.numeric.date'],
    ['graft', 'keyword.control'],
    ['K26', 'entity.name.type'],
    ['.1..11,14', 'constant.numeric'],
    ['cut', 'variable.other.property'],
    ['40%', 'constant.numeric'],
    ['side-veneer', 'constant.language'],
    ['onto', 'variable.other.property'],
    ['"left"', 'string.quoted.double'],
    ['# ok', 'comment.line.number-sign'],
  ]);
  expect(
    scopes("batch K26  Pinus parviflora 'Tenysu' / P. thunbergii").map(([text, scope]) => `${text} ${scope}`),
  ).toEqual([
    'batch keyword.control',
    'Pinus parviflora markup.italic.taxon',
    "'Tenysu' string.quoted.single.cultivar",
    'P. thunbergii markup.italic.taxon',
  ]);
});
