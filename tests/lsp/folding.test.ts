import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { FileFolds } from '#server/lsp/folding-range.ts';
import { answerOf, folderOf } from '../support/view.ts';

describe('folding', () => {
  const folds = (log: string) =>
    answerOf(new FileFolds().of(folderOf(log).view()))
      .sort((a, b) => a.startLine - b.startLine || b.endLine - a.endLine)
      .map(({ startLine, endLine, kind }) => `${startLine + 1}-${endLine + 1}${kind ? ` ${kind}` : ''}`);

  test('days, neighbouring declarations of one kind, remarks', () => {
    expect(
      folds(`
# Drumlin Lane
# two seasons
place frame
place yard

tree T3  Pinus mugo  in yard
batch K26  in frame

2026-10-09
graft K26.1
# late in the day
# and wet
graft K26.2

# spring
2027-03-20
swell K26

2027-03-21 free K26
`),
    ).toEqual(['1-2 comment', '3-4', '9-13', '11-12 comment', '16-19']);
  });
  test('a batch with the lines right below that are on it', () => {
    expect(
      folds(`
batch A26
batch K26
2026-10-09 graft K26.1
2026-10-10 graft K26.2  # K26 goes on

2026-10-11 check K26
2026-10-11 check A26
2026-10-12
batch B26
graft B26.1
`),
    ).toEqual(['2-6', '8-10', '9-10']);
  });
  test('no fold crosses another', () => {
    const log = folderOf(
      Array.from(
        { length: 400 },
        (_, i) => ['batch K', '2026-10-09', 'graft K', '# x', '', 'batch L', 'place p'][(i * i + 3 * i) % 7],
      ).join('\n'),
    );
    const all = answerOf(new FileFolds().of(log.view()));
    const crossing = all.filter((a) =>
      all.some((b) => a.startLine < b.startLine && b.startLine <= a.endLine && a.endLine < b.endLine),
    );
    expect(crossing).toEqual([]);
    expect(all.length).toBeGreaterThan(50);
  });
  test('whatever is typed, what was kept of other days is what it would be anew', () => {
    const words = [
      '',
      '# x',
      'batch K',
      'batch L',
      'place p',
      '2026-10-09',
      '2026-10-10',
      'graft K',
      'check K L',
      '8:30',
      '?',
    ];
    const text = fc.array(fc.constantFrom(...words), { maxLength: 12 }).map((lines) => lines.join('\n'));
    const edit = fc.record({ from: fc.nat(30), lines: fc.nat(3), text });
    fc.assert(
      fc.property(fc.tuple(text, text, text), fc.array(edit, { maxLength: 6 }), (texts, edits) => {
        const { root, view } = folderOf({ 'log.graft': texts.join('\n') });
        root.open.set('log.graft', 1);
        const kept = new FileFolds();
        answerOf(kept.of(view()));
        for (const { from, lines, text: put } of edits) {
          root.edit(
            'log.graft',
            { start: { line: from, character: 0 }, end: { line: from + lines, character: 0 } },
            put,
          );
          expect(answerOf(kept.of(view()))).toEqual(answerOf(new FileFolds().of(view())));
        }
      }),
      { numRuns: 1000 },
    );
  });
});
