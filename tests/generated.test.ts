import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { beforeAll, describe, expect, test } from 'vitest';
import { createOnigScanner, createOnigString, loadWASM } from 'vscode-oniguruma';
import { type IGrammar, INITIAL, parseRawGrammar, Registry } from 'vscode-textmate';
import { textMateGrammar } from '#grammar/contributions.ts';
import { formatText } from '#grammar/format.ts';
import { readLine } from '#grammar/line.ts';
import { referencePage } from '#grammar/reference.ts';
import { allKeys, allVerbs, keyRow, lookAlikes, verbRow, verbWords, wordsOf } from '#grammar/vocabulary.ts';
import { said } from './support/reading.ts';

const generated = '../grammar/generated';

test('generated files are those of the tables (npm test -- -u writes them)', async () => {
  await expect(`${JSON.stringify(textMateGrammar(), null, 2)}\n`).toMatchFileSnapshot(
    `${generated}/graft.tmLanguage.json`,
  );
  await expect(referencePage()).toMatchFileSnapshot(`${generated}/reference.md`);
});

test('the reference’s look-alikes: those read have nothing wrong, those said have', () => {
  for (const line of lookAlikes.read) {
    expect(readLine(line).problems, line).toEqual([]);
    expect(said(formatText(line)), line).toBe(said(line));
  }
  for (const line of lookAlikes.said) expect(readLine(line).problems, line).toHaveLength(1);
});

describe('colours without a server', () => {
  let grammar: IGrammar | null;
  beforeAll(async () => {
    const wasm = await readFile(createRequire(import.meta.url).resolve('vscode-oniguruma/release/onig.wasm'));
    await loadWASM(wasm.buffer.slice(wasm.byteOffset, wasm.byteOffset + wasm.byteLength));
    const registry = new Registry({
      onigLib: Promise.resolve({ createOnigScanner, createOnigString }),
      loadGrammar: async () => parseRawGrammar(JSON.stringify(textMateGrammar()), 'graft.json'),
    });
    grammar = await registry.loadGrammar('source.graft');
  });
  /** The coloured parts of a line, each with its innermost scope. */
  const scopes = (line: string): string[] =>
    (grammar?.tokenizeLine(line, INITIAL).tokens ?? []).flatMap((token) => {
      const text = line.slice(token.startIndex, token.endIndex);
      const scope = token.scopes.at(-1)?.replace(/\.graft$/, '') ?? '';
      return text.trim() === '' || scope === 'source' ? [] : [`${text} ${scope}`];
    });

  test('words are coloured by what they are', () => {
    expect(scopes('2026-10-09 graft K26.1..11,14  cut 40%  side-veneer  onto T14  "left"  # ok')).toEqual([
      '2026-10-09 constant.numeric.date',
      'graft keyword.control',
      'K26 entity.name.type',
      '.1..11,14 constant.numeric',
      'cut variable.other.property',
      '40% constant.numeric',
      'side-veneer constant.language',
      'onto variable.other.property',
      'T14 entity.name.type',
      '"left" string.quoted.double',
      '# ok comment.line.number-sign',
    ]);
    expect(scopes("batch K26  Pinus parviflora 'Tenysu' / P. thunbergii in frame")).toEqual([
      'batch keyword.control',
      'K26 entity.name.type',
      'Pinus parviflora markup.italic.taxon',
      "'Tenysu' string.quoted.single.cultivar",
      'P. thunbergii markup.italic.taxon',
      'in variable.other.property',
      'frame entity.name.type',
    ]);
    expect(scopes('practice any  work look  after graft  wait mar-01..may-15')).toEqual([
      'practice keyword.control',
      'any constant.language',
      'work variable.other.property',
      'look constant.language',
      'after variable.other.property',
      'graft constant.language',
      'wait variable.other.property',
      'mar-01 constant.numeric',
      'may-15 constant.numeric',
    ]);
  });

  test('people, and marks that stand for something else, are no plants and no texts', () => {
    expect(scopes('Graft K26.1  by O\'Brien  stock 1.5"  whorls 2')).toEqual([
      'Graft keyword.control',
      'K26 entity.name.type',
      '.1 constant.numeric',
      'by variable.other.property',
      "O'Brien string.unquoted",
      'stock variable.other.property',
      '1.5 constant.numeric',
      'whorls variable.other.property',
      '2 constant.numeric',
    ]);
    expect(scopes('check frame dry')).toEqual([
      'check keyword.control',
      'frame entity.name.type',
      'dry constant.language',
    ]);
    expect(scopes('check dry')).toEqual(['check keyword.control', 'dry constant.language']);
    expect(scopes('place box60  shade')).toEqual([
      'place keyword.control',
      'box60 entity.name.type',
      'shade constant.language',
    ]);
  });

  test('every verb, and what is read as one, with a small letter or a capital', () => {
    for (const word of verbWords.keys())
      for (const written of [word, `${word.charAt(0).toUpperCase()}${word.slice(1)}`])
        expect(scopes(`2026-10-09 8:30 ${written}`), written).toContain(`${written} keyword.control`);
    // not read, and not coloured as if it were
    expect(scopes('OPEN K26.1  10%')).toEqual([]);
  });

  test('every key, flag and choice of each verb', () => {
    for (const verb of allVerbs)
      for (const [word, { class: kind }] of wordsOf(verb)) {
        const line = `${verb}  ${word}`;
        const fits = ['variable.other.property', 'constant.language'];
        expect(
          fits.map((scope) => `${word} ${scope}`),
          `${line} (${kind})`,
        ).toContain(scopes(line).at(-1));
      }
  });

  test('no word of an example is left without a colour', () => {
    const examples = [...allVerbs.map((verb) => verbRow(verb).example), ...allKeys.map((key) => keyRow(key).example)];
    for (const example of examples) {
      const line = allVerbs.some((verb) => example.startsWith(`${verb} `)) ? example : `practice any  ${example}`;
      const coloured = scopes(line).reduce(
        (rest, part) => rest.replace(part.slice(0, part.lastIndexOf(' ')), ''),
        line,
      );
      expect(coloured, line).not.toMatch(/\p{L}{2,}/u);
    }
  });
});
