import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import type { TextEdit } from 'vscode-languageserver-protocol';
import { readLine } from '#grammar/line.ts';
import { completion } from '#server/lsp/completion.ts';
import { folderOf } from '../support/view.ts';

/* Offers taken at places of real lines, at their end and in their middle: none may put a slip into the line. */

const project = resolve(import.meta.dirname, '../..');
const nursery = join(project, 'examples/drumlin-lane');
const files = Object.fromEntries(
  readdirSync(nursery)
    .filter((name) => name.endsWith('.graft'))
    .map((name) => [name, readFileSync(join(nursery, name), 'utf8')]),
);
const practice = readFileSync(join(project, 'server/engine/practice.graft'), 'utf8');

/** Every so manieth line that says something, its remark left out. */
const every = 40;
const lines = [...new Set(`${practice}\n${Object.values(files).join('\n')}`.split('\n'))]
  .map((line) => line.replace(/#.*/, '').trimEnd())
  .filter((line) => line !== '' && !line.startsWith('weather'))
  .filter((_, i) => i % every === 0);

/** What the editor makes of it: of a place to fill in what stands there already. */
const written = (newText: string) => newText.replace(/\$\{1:(.*)\}/u, '$1').replaceAll(/\\(.)/g, '$1');

test('what is taken is read, says nothing twice, and is not what stands there already', () => {
  const { root, view } = folderOf({ ...files, '2025.graft': `${files['2025.graft']}\n\n` }, '2025-06-20');
  for (const _ of root.answers.all());
  const document = root.log.document('2025.graft');
  const line = (document?.length ?? 0) - 1;
  const stands = (text: string) => {
    const character = document?.entries[line]?.line.text.length ?? 0;
    root.edit('2025.graft', { start: { line, character: 0 }, end: { line, character } }, text);
  };
  // a fact may still wait for its value
  const slips = (text: string) =>
    readLine(text).problems.flatMap(({ code }) => (code === 'missing-value' ? [] : [code]));
  let taken = 0;
  for (const full of lines)
    for (let character = 1; character <= full.length; character++)
      for (const text of [full.slice(0, character), full]) {
        stands(text);
        const { items } = completion(view('2025.graft'), { line, character }, { snippets: true, trigger: undefined });
        for (const { textEdit } of items.slice(0, 8)) {
          const { range, newText } = textEdit as TextEdit;
          const after = text.slice(0, range.start.character) + written(newText) + text.slice(range.end.character);
          const more = slips(after).length > slips(text).length;
          expect(more || after === text ? after : '', `${text.slice(0, character)}|${text.slice(character)}`).toBe('');
          taken++;
        }
      }
  expect(taken).toBeGreaterThan(1000);
});
