import { describe, expect, test } from 'vitest';
import type { Cohort } from '#server/engine/model.ts';
import { expectLogFindings, findingsText, logOf } from '../support/log.ts';

const cohort = (text: string, batch = 'k26'): Cohort => {
  const [first] = logOf(text).history(batch).cohorts;
  if (!first) throw new Error('nothing was made');
  return first;
};
const told = (one: Cohort, key: Parameters<Cohort['fact']>[0]) => {
  const found = one.fact(key);
  return found && `${found.entry.line.text.slice(found.fact.span.start, found.fact.span.end)} (${found.from})`;
};

describe('facts of a graft: its line’s, its batch’s, those of the batch it is like', () => {
  test('the nearest holds', () => {
    const one = cohort(
      'batch K25 Pinus mugo side-veneer film 38mm long 30mm\nbatch K26 like K25 long 28mm\n2026-10-09 graft K26.1 cut 40%\n',
    );
    expect([told(one, 'cut'), told(one, 'long'), told(one, 'film'), told(one, 'short')]).toEqual([
      'cut 40% (graft)',
      'long 28mm (batch)',
      'film 38mm (like)',
      undefined,
    ]);
    expect([one.method, one.scion?.text, one.group]).toEqual(['side-veneer', 'Pinus mugo', 'needle']);
  });

  test('a chain of over a hundred is told, on each batch that hangs on it so far down', () => {
    const log = Array.from({ length: 103 }, (_, i) => `batch K${i} ${i === 0 ? 'Pinus mugo' : `like K${i - 1}`}`);
    expect(findingsText(logOf(log.join('\n')))).toEqual([
      '101 error contradiction',
      '102 error contradiction',
      '103 error contradiction',
    ]);
  });

  test('`like` carries plants, method, place and bench facts, not wood, tree, hands and marks', () => {
    const one = cohort(
      'place frame\ntree T3 Pinus mugo\nbatch K25 Pinus mugo / Pinus sylvestris side-veneer in frame film 38mm lot L7 from T3 onto T3 label red branch "3rd" by mk\n2026-09-28 collect L7 Pinus mugo\nbatch K26 like K25\n2026-10-09 graft K26.1\n',
    );
    expect((['lot', 'from', 'onto', 'label', 'branch', 'by'] as const).map((key) => told(one, key))).toEqual(
      Array(6).fill(undefined),
    );
    expect([told(one, 'film'), one.stays[0]?.place, one.stock?.text, one.potted, one.hand]).toEqual([
      'film 38mm (like)',
      'frame',
      'Pinus sylvestris',
      true,
      undefined,
    ]);
  });

  test('`like` goes on from batch to batch; a circle is told once, on the line that stands last in it', () => {
    expectLogFindings(`
batch K24  like K26
batch K25  like K24
batch K26  like K25
#          ^^^^^^^^ error contradiction: \`K26\` is like \`K25\`, and that comes back to \`K26\`: one of them has facts of its own.
batch K27  like K27
#          ^^^^^^^^ error contradiction: \`K27\` is like itself: name the batch it takes its facts from.
batch K28  like K26
`);
    expect(
      told(
        cohort('batch K24 film 38mm\nbatch K25 like K24\nbatch K26 like K25 Pinus mugo\n2026-10-09 graft K26.1\n'),
        'film',
      ),
    ).toBe('film 38mm (like)');
  });

  test('a fact that slipped hides the batch’s default: it is unknown, not absent', () => {
    const one = cohort('batch K26 Pinus mugo long 30mm\n2026-10-09 graft K26.1 long 30cm\n');
    expect(one.fact('long')?.fact.lost).toBe('slipped');
    expect(one.fact('long')?.from).toBe('graft');
  });

  test('a potted stem has no tree, branch, distance or side', () => {
    const potted = (facts: string) =>
      cohort(`tree T3 Pinus mugo\nbatch K26 Pinus mugo\n2026-10-09 graft K26.1 ${facts}\n`).potted;
    expect(['cut 40%', 'onto T3', 'branch apex', 'out 2cm', 'under'].map(potted)).toEqual([
      true,
      false,
      false,
      false,
      false,
    ]);
  });

  test('hands are one key, whatever their order', () => {
    expect(cohort('batch K26 Pinus mugo by mk\n2026-10-09 graft K26.1 by mk,Jo\n').hand).toBe('jo,mk');
    expect(cohort('batch K26 Pinus mugo by mk\n2026-10-09 graft K26.1\n').hand).toBe('mk');
  });
});

describe('the pair', () => {
  const wood =
    "place yard\ntree T3 Pinus parviflora 'Tenysu' in yard\ntree T5 Pinus thunbergii in yard\n2026-09-28 collect L7 from T3\n2026-09-28 collect L8 Pinus mugo\n";
  const pair = (batch: string, graft: string) => {
    const { scion, stock } = cohort(`${wood}batch K26 ${batch}\n2026-10-09 graft K26.1 ${graft}\n`);
    return `${scion?.text} / ${stock?.text}`;
  };

  test('the line’s plants, else its wood and its tree, else the batch’s plants, wood and tree', () => {
    expect(pair('Pinus strobus / Pinus sylvestris', 'Pinus mugo / Pinus nigra')).toBe('Pinus mugo / Pinus nigra');
    expect(pair('Pinus strobus / Pinus sylvestris', 'lot L7 onto T5')).toBe(
      "Pinus parviflora 'Tenysu' / Pinus thunbergii",
    );
    expect(pair('Pinus strobus / Pinus sylvestris  lot L7 onto T5', '')).toBe('Pinus strobus / Pinus sylvestris');
    expect(pair('lot L7', 'onto T5')).toBe("Pinus parviflora 'Tenysu' / Pinus thunbergii");
    expect(pair('from T3', '')).toBe("Pinus parviflora 'Tenysu' / undefined");
    expect(pair('Pinus strobus / Pinus sylvestris', 'lot L8')).toBe('Pinus mugo / Pinus sylvestris');
  });

  test('the interstem comes from the plants told', () => {
    expect(
      cohort('batch K26 Pyrus communis / Cydonia oblonga / Crataegus monogyna\n2026-10-09 graft K26.1\n').interstem
        ?.text,
    ).toBe('Cydonia oblonga');
  });

  test('a lot or tree of another genus than the plants told is a slip in one of them', () => {
    expectLogFindings(`
tree T9  Abies koreana
2026-09-28  collect L7  Picea abies
batch K26  Pinus mugo / Pinus sylvestris  lot L7
#                                             ^^ error contradiction: Picea in \`lot L7\`, Pinus by the plants told: one of them is a slip.
2026-10-09  graft K26.1
2026-10-09  graft K26.2  onto T9
#                             ^^ error contradiction: Abies in \`onto T9\`, Pinus by the plants told: one of them is a slip.
2026-10-09  graft K26.3  Picea abies / Picea abies
`);
    expect(
      findingsText(logOf('batch K26 Pinus mugo lot L7\n2026-09-28 collect L7 Pinus nigra\n2026-10-09 graft K26.1\n')),
    ).toEqual([]);
  });
});
