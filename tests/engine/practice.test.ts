import { describe, expect, test } from 'vitest';
import { practiceOf, shippedLines } from '#server/engine/practice.ts';
import { limits, linesOf, off, said, type Who, who } from '../support/practice-asked.ts';

test('every line of the shipped practice can be read, and makes a rule', () => {
  const lines = shippedLines();
  const practice = practiceOf([]);
  const unread = lines.flatMap(({ line, rank }) => line.problems.map(({ message }) => `${rank + 1}: ${message}`));
  expect(unread).toEqual([]);
  const written = lines.filter(({ line }) => line.statement?.verb === 'practice');
  expect(written.filter((entry) => practice.of(entry).length === 0).map(({ rank }) => rank + 1)).toEqual([]);
  expect(practice.rows.filter(({ source }) => source === undefined)).toEqual([]);
});

describe('what a line of the log replaces', () => {
  test('with the same scopes and conditions all shipped lines of its key, warning and information alike', () => {
    const potted = { method: 'side-veneer', potted: true } as const;
    expect(limits('cut', '', potted)).toEqual(['0.1..0.5 warning', '0.3..0.5 information']);
    expect(limits('cut', 'practice side-veneer potted cut 20..45%', potted)).toEqual(['0.2..0.45 warning']);
    expect(limits('cut', 'practice side-veneer potted cut 20..45% information', potted)).toEqual([
      '0.2..0.45 information',
    ]);
  });

  test('in one file the last warning and the last information both hold', () => {
    const own = `
      practice side cut 20..60%
      practice side cut 35..45% information
      practice side cut 25..60%`;
    expect(limits('cut', own)).toEqual(['0.25..0.6 warning', '0.35..0.45 information']);
  });

  test('in another file of the log only the later file’s lines', () => {
    const own = `
      a.graft: practice side cut 35..45% information
      b.graft: practice side cut 20..60%`;
    expect(limits('cut', own)).toEqual(['0.2..0.6 warning']);
  });

  test('`none` takes the rule away', () => {
    expect(limits('cut', 'practice side cut none')).toEqual([]);
    expect(limits('cut', 'practice side cut none', { method: 'side-veneer' })).toEqual(['0.3..0.5 warning']);
    expect(limits('scion-ratio', '', { method: 'bark' })).toEqual([]);
  });

  test('no severity: that of the shipped line it stands over, else warning', () => {
    expect(
      limits('scion', "practice Pinus sylvestris 'Watereri' scion 20mm..", { plant: "Pinus sylvestris 'Watereri'" }),
    ).toEqual(['20.. information']);
    expect(limits('scion-ratio', 'practice bark scion-ratio ..2', { method: 'bark' })).toEqual(['..2 information']);
    expect(limits('film', 'practice any film 20..50mm')).toEqual(['20..50 warning']);
    expect(limits('whorls', 'practice Pinus whorls 1..4')).toEqual(['1..4 warning']);
  });
});

describe('the closest wins', () => {
  test.each([
    ['practice any whorls 1..9', '1..2'],
    ['practice detached whorls 1..9', '1..2'],
    ['practice side whorls 1..9', '1..2'],
    ['practice needle whorls 1..9', '1..9'],
    ['practice Pinus whorls 1..9', '1..9'],
    ['practice Picea whorls 1..9', '1..2'],
    ['practice Pinus mugo whorls 1..9', '1..2'],
    ['practice Pinus sylvestris whorls 1..9', '1..9'],
    ["practice Pinus sylvestris 'Watereri' whorls 1..9", '1..9'],
    ["practice Pinus sylvestris 'Nana' whorls 1..9", '1..2'],
    ['practice K26 whorls 1..9', '1..9'],
    ['practice K26.4..9 whorls 1..9', '1..9'],
    ['practice K26.4,5 whorls 1..9', '1..2'],
    ['practice B26 whorls 1..9', '1..2'],
  ])('%s', (own, expected) => {
    const subject = { plant: "Pinus sylvestris 'Watereri'", batch: 'k26', numbers: [4, 6] };
    const [limit] = limits('whorls', own, own.includes('K26.4,5') ? { ...subject, numbers: [6, 6] } : subject);
    expect(limit).toBe(`${expected} warning`);
  });

  test('a line for the batch’s grafts over one for the batch, whichever is later', () => {
    const subject = { batch: 'k26', numbers: [1, 3] };
    expect(limits('cut', 'practice K26.1..3 cut 10..20%\npractice K26 cut 60..70%', subject)).toEqual([
      '0.1..0.2 warning',
    ]);
  });

  test('then more scopes and conditions, a list counting one; then the later line', () => {
    const own = `
      practice needle side made spring whorls 1..7
      practice needle,scale,shedding whorls 1..8`;
    expect(limits('whorls', own)).toEqual(['1..7 warning']);
    expect(limits('whorls', own, { on: '2027-10-01' })).toEqual(['1..8 warning']);
    expect(
      limits('cut', 'practice side potted cut 1..9%\npractice side made spring cut 2..8%', { potted: true }),
    ).toEqual(['0.02..0.08 warning']);
  });

  test('`within`, `certain`, `urgent`, `source` and severities count nothing', () => {
    const own = `
      practice any silent 10d within mar-01..oct-31 information source "own"
      practice any silent 20d`;
    expect(practiceOf(linesOf(own)).silent(undefined, who()).map(said)).toEqual(['20..20 information']);
  });

  test('scopes side by side must all hold', () => {
    expect(limits('cut', 'practice needle side-veneer cut 1..2%')).toEqual(['0.3..0.5 warning']);
    expect(limits('cut', 'practice needle side cut 1..2%')).toEqual(['0.01..0.02 warning']);
    expect(limits('cut', 'practice K26 B26 cut 1..2%', { batch: 'k26', numbers: [1, 1] })).toEqual([
      '0.3..0.5 warning',
    ]);
  });

  test('no method, no plant: nothing that asks for one', () => {
    const subject = who();
    const { method, scion, group, ...nobody } = subject;
    expect([method, group, scion?.genus]).toEqual(['side', 'needle', 'Pinus']);
    const practice = practiceOf([]);
    expect(practice.limits('cut', nobody)).toEqual([]);
    expect(practice.limits('unpruned', nobody)).toEqual([]);
    expect(practice.limits('hot', nobody)).toHaveLength(1);
  });
});

describe('what is one key', () => {
  const practice = practiceOf(
    linesOf('practice any work look after dry wait 1d\npractice any silent none after biting'),
  );

  test('work by its word and each event', () => {
    const look = (event: string) => practice.work('look', event, who())?.wait;
    expect(look('dry')).toMatchObject({ low: 1, high: 1 });
    expect(look('mould')).toMatchObject({ low: 3, high: 7 });
    expect(look('word')).toMatchObject({ low: 7, high: 14 });
    expect(practice.work('judge', 'graft', who({ method: 'chip-bud' }))?.wait).toMatchObject({ low: 21, high: 42 });
    expect(practice.work('untie', 'graft', who({ method: 'chip-bud' }))?.wait).toMatchObject({ low: 21, high: 42 });
  });

  test('`silent` and `stands` by each event', () => {
    expect(practice.silent('biting', who())).toEqual([]);
    expect(practice.silent('wet', who()).map(said)).toEqual(['7.. information']);
    expect(practice.silent(undefined, who())[0]?.low).toBe(60);
    expect(practice.stands('dry', who())?.high).toBe(14);
    expect(practice.stands('biting', who())?.high).toBe(30);
  });

  test('`long` and `long-ratio` are one; of touching ends the later line', () => {
    expect(limits('long', '', { thick: 4 })).toEqual(['5.. warning']);
    expect(limits('long', '', { thick: 5 })).toEqual(['25.. warning']);
    expect(limits('long', 'practice side size ..5mm long 12mm..', { thick: 4 })).toEqual(['12.. warning']);
  });

  test('several keys on a line are as many lines', () => {
    const plan = practiceOf([]);
    expect([
      plan.figure('prior', who({ method: 'approach', on: '2027-07-01' }))?.figure,
      plan.figure('weight', who())?.figure,
    ]).toEqual([0.45, 4]);
    expect([
      plan.minutes('open', who()),
      plan.minutes('graft', who()),
      plan.minutes('graft', who({ method: 't-bud' })),
    ]).toEqual([0.5, 5, 2]);
  });

  test('`needs` by its word, `needs none` all four, `wait none` the work', () => {
    const needs = (own: string) => {
      const found = practiceOf(linesOf(own));
      return (['frost-free', 'shade', 'wind-break', 'humid'] as const).filter((cover) => found.needs(cover, who()));
    };
    expect(needs('')).toEqual(['frost-free', 'shade', 'wind-break', 'humid']);
    expect(needs('practice needle detached needs frost-free none')).toEqual(['shade', 'wind-break', 'humid']);
    expect(needs('practice Pinus needs none')).toEqual([]);
    const quiet = practiceOf(linesOf('practice any work look after word wait none'));
    expect(quiet.work('look', 'word', who({ age: 1 } as Who))?.wait).toMatchObject({ low: 7 });
    expect(
      practiceOf(linesOf('practice Pinus work look after word wait none')).work('look', 'word', who()),
    ).toBeUndefined();
  });

  test('a line with work and another key makes neither', () => {
    expect(practiceOf(linesOf('practice any work look after word wait 3d cut ..50%')).rows).toHaveLength(
      practiceOf([]).rows.length,
    );
  });
});

describe('`off`: by plant and by method both', () => {
  test.each([
    ['Acer palmatum', 'broadleaf', 'bark', ['off oct..nov information', 'off jul..mar information']],
    ['Acer palmatum', 'broadleaf', 't-bud', ['off oct..feb warning']],
    ['Abies koreana', 'needle', 'side', ['off summer warning', 'off autumn information']],
    ['Juniperus chinensis', 'scale', 'side', []],
    ['Pinus mugo', 'needle', 'approach', []],
  ] as const)('%s, %s, %s', (plant, group, method, expected) => {
    expect(off('', { plant, group, method })).toEqual(expected);
  });

  test('under glass the plant sets the season: `heated` is asked of the place that day', () => {
    expect(off('', { plant: 'Acer palmatum', group: 'broadleaf', method: 't-bud', flags: ['heated'] })).toEqual([]);
    expect(off('', { plant: 'Acer palmatum', group: 'broadleaf', method: 'bark', flags: ['heated'] })).toEqual([
      'off oct..nov information',
    ]);
  });

  test('an own line by batch overrules both', () => {
    expect(
      off('practice K26 off none', {
        plant: 'Acer palmatum',
        group: 'broadleaf',
        method: 'bark',
        batch: 'k26',
        numbers: [1, 1],
      }),
    ).toEqual([]);
  });
});

test('what was worked out for plants is kept, but not for each letter of names that are typed', () => {
  const practice = practiceOf([]);
  const asked = (plant: string) => practice.limits('cut', who({ plant, method: 'side-veneer', potted: true }));
  const first = asked('Pinus mugo');
  expect(asked('Pinus mugo')).toBe(first);
  for (let i = 0; i < 2000; i++) asked(`Pinus m${i}`);
  expect(asked('Pinus mugo')).not.toBe(first);
  expect(asked('Pinus mugo')).toEqual(first);
});
