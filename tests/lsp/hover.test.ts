import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import type { MarkupContent } from 'vscode-languageserver-protocol';
import { hover } from '#server/lsp/hover.ts';
import { caretIn, folderOf } from '../support/view.ts';

const nursery = resolve(import.meta.dirname, '../../examples/drumlin-lane');

/** What is told at `|` on a line of a log, as plain text. */
function told(line: string): string {
  const { text, position } = caretIn(
    `place frame\nbatch K26  Pinus parviflora / Pinus thunbergii  side-veneer\n2026-10-09  graft K26.1..4  cut 22%\n${line}`,
  );
  const found = hover(folderOf(text, '2026-11-01').view(), position, { markdown: false });
  return (found?.contents as MarkupContent | undefined)?.value ?? '';
}

test('for whom a rule is: each word by itself, a group with its genera', () => {
  expect(told('practice  side,side-ven|eer  cut 30..50%')).toBe('For grafts made this way.');
  expect(told('practice  ne|edle,scale  whorls 1..2')).toMatch(/^For plants of this group\.\nPinus, Picea, Abies/);
  expect(told('practice  needle,sc|ale  whorls 1..2')).toMatch(/Juniperus/);
  expect(told('practice  broad|leaf  stored ..60d')).toMatch(/in no other group/);
  expect(told('accept  cut-shallow  a|ny')).toMatch(/^For every graft/);
  expect(told('practice  K2|6  cut 20..50%')).toMatch(/^K26/);
});

test('a rule’s figure is told as its word is; a graft’s own cut as its geometry', () => {
  expect(told('practice  side-veneer  cut 30..|50%')).toMatch(/^How deep the cut goes/);
  expect(told('2026-10-09  graft K26.5  cut 2|2%')).toMatch(/^Cut 22.% deep/);
});

test('of a set: what became of it, and what is known by count only', () => {
  const fails = '2026-10-20  fail K26.1  dried\n2026-10-21  fail K26 x2  dried\n';
  expect(told(`${fails}2026-10-22  check  K26.1..|4`)).toContain(
    '1 graft lost, 3 grafts made; 2 of them lost or sold, by count',
  );
  expect(told(`${fails}2026-10-22  check  K26.1|`)).not.toContain('by count');
  expect(told(`2026-10-20  fail K26.1  dried\n2026-10-22  check  K26.1..|4`)).toMatch(/1 graft lost, 3 grafts made$/m);
});

test('a code: what was seen', () => {
  for (const line of ['accept  cut-sh|allow  K26', '2026-10-09  graft K26.5  cut 22%  accept cut-sh|allow'])
    expect(told(line)).toBe('cut-shallow: a cut too shallow to hold the scion.');
});

test('nothing where there is nothing to tell', () => {
  for (const line of ['2026|-10-09', '# a rem|ark', 'opne K2|6']) expect(told(line), line).toBe('');
});

test('of a batch: its notes in one line are sentences', () => {
  const files = readdirSync(nursery).filter((name) => name.endsWith('.graft'));
  const texts = Object.fromEntries(files.map((name) => [name, readFileSync(join(nursery, name), 'utf8')]));
  const view = folderOf(texts, '2025-06-20').view('2024.graft');
  const line = view.document.entries.findIndex(({ line: { text } }) => text.startsWith('batch    P24'));
  const found = hover(view, { line, character: 10 }, { markdown: false });
  expect((found?.contents as MarkupContent | undefined)?.value).toMatch(
    /0.% at worst, 93.% at best\. Going by older batches/u,
  );
});
