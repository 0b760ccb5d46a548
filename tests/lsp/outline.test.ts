import { expect, test } from 'vitest';
import { documentSymbol } from '#server/lsp/document-symbol.ts';
import { answerOf, folderOf } from '../support/view.ts';

test('the outline has what is declared, and the days, whether carried down or said by each line', () => {
  const outline = answerOf(
    documentSymbol(
      folderOf(`
place frame
2026-02-30
graft K26.1
2026-10-09
graft K26.2
2026-10-01 feed K26.1
tkae K26
2026-10-10 tkae K26
batch K26  Pinus mugo / Pinus sylvestris
`).view(),
    ),
  );
  expect(outline.map(({ name, detail, children }) => [name, detail ?? children?.map((child) => child.name)])).toEqual([
    ['frame', 'place'],
    ['2026-10-09', ['graft K26.2', '2026-10-01 feed K26.1']],
    ['K26', 'Pinus mugo / Pinus sylvestris'],
  ]);
  const own = answerOf(
    documentSymbol(folderOf('2026-10-09 graft K26.1\n2026-10-09 graft K26.2\nbatch K26\n2026-10-10 feed K26').view()),
  );
  expect(own.map(({ name, children }) => `${name} ${children?.length ?? ''}`)).toEqual([
    '2026-10-09 2',
    'K26 ',
    '2026-10-10 1',
  ]);
});

test('of a long file the days stand without their lines', () => {
  const [day, ...more] = answerOf(documentSymbol(folderOf(`2026-10-09\n${'feed K26\n'.repeat(5_000)}`).view()));
  expect(more).toEqual([]);
  expect(day).toMatchObject({ name: '2026-10-09', children: [], range: { end: { line: 5_000 } } });
});
