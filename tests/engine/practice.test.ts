import { describe, expect, test } from 'vitest';
import { readLine } from '#grammar/line.ts';
import { parseIso } from '#grammar/values/date.ts';
import type { Cover, Entry, Group } from '#server/engine/model.ts';
import { type Limit, type LimitKey, practiceOf, type Subject, shippedLines } from '#server/engine/practice.ts';
import { closerLines, copyOf, whereText } from '#server/engine/practice-closer.ts';

/** Lines of one log, or of several files: `file: line`. */
const linesOf = (text: string): Entry[] =>
  text
    .split('\n')
    .filter((line) => line.trim() !== '')
    .map((line, rank) => {
      const [, file = 'log.graft', rest = ''] = /^(?:(\w+\.graft): )?(.*)$/.exec(line.trim()) ?? [];
      return { line: readLine(rest), file, rank, minute: 0 };
    });

const day = (iso: string) => parseIso(iso) ?? 0;

interface Who extends Partial<Omit<Subject, 'scion' | 'flags' | 'lat' | 'day' | 'made' | 'collected' | 'thick'>> {
  readonly plant?: string;
  readonly on?: string;
  readonly made?: string;
  readonly collected?: string;
  readonly thick?: number | readonly [number, number];
  readonly flags?: readonly Cover[];
  readonly lat?: number;
  readonly events?: Readonly<Record<string, string>>;
}

/** Somebody to ask practice for: a pine on a branch unless said otherwise. */
function who({
  plant = 'Pinus sylvestris',
  on = '2027-03-15',
  made,
  collected,
  thick,
  flags,
  lat,
  events,
  ...rest
}: Who = {}): Subject {
  const statement = readLine(`batch X  ${plant}`).statement;
  const scion = statement?.taxa?.scion;
  const [low, high] = typeof thick === 'number' ? [thick, thick] : (thick ?? []);
  return {
    method: 'side',
    group: 'needle' as Group,
    potted: false,
    ...rest,
    day: day(on),
    made: day(made ?? on),
    ...(scion ? { scion } : {}),
    ...(collected ? { collected: day(collected) } : {}),
    ...(low !== undefined && high !== undefined ? { thick: { low, high } } : {}),
    lat: () => lat,
    flags: () => new Set(flags ?? []),
    event: (name) => (events?.[name] === undefined ? undefined : day(events[name])),
  };
}

const said = ({ low, high, severity }: Limit) => `${low ?? ''}..${high ?? ''} ${severity}`;
const limits = (key: LimitKey, own: string, subject: Who = {}) =>
  practiceOf(linesOf(own)).limits(key, who(subject)).map(said);
const off = (own: string, subject: Who) =>
  practiceOf(linesOf(own))
    .off(who(subject))
    .map(({ row, severity }) => `${row.entry.line.text.slice(row.fact.span.start, row.fact.span.end)} ${severity}`);

test('every line of the shipped practice can be read, and makes a rule', () => {
  const lines = shippedLines();
  const practice = practiceOf([]);
  const unread = lines.flatMap(({ line, rank }) => line.problems.map(({ message }) => `${rank + 1}: ${message}`));
  expect(unread).toEqual([]);
  const written = lines.filter(({ line }) => line.statement?.verb === 'practice');
  expect(written.filter((entry) => practice.of(entry).length === 0).map(({ rank }) => rank + 1)).toEqual([]);
  expect(practice.rows.filter(({ source }) => source === undefined)).toEqual([]);
});

describe('what a line of the log replaces (decided 96)', () => {
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

  test('no severity: that of the shipped line it stands over, else warning (decided 65)', () => {
    expect(
      limits('scion', "practice Pinus sylvestris 'Watereri' scion 20mm..", { plant: "Pinus sylvestris 'Watereri'" }),
    ).toEqual(['20.. information']);
    expect(limits('scion-ratio', 'practice bark scion-ratio ..2', { method: 'bark' })).toEqual(['..2 information']);
    expect(limits('film', 'practice any film 20..50mm')).toEqual(['20..50 warning']);
    expect(limits('whorls', 'practice Pinus whorls 1..4')).toEqual(['1..4 warning']);
  });
});

describe('the closest wins (decided 97, 100)', () => {
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

  test('scopes side by side must all hold (decided 64)', () => {
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

describe('what is one key (decided 98)', () => {
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

  test('`long` and `long-ratio` are one; of touching ends the later line (decided 101)', () => {
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

  test('`needs` by its word, `needs none` all four, `wait none` the work (decided 126)', () => {
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

describe('`off`: by plant and by method both (decided 99)', () => {
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

describe('conditions (decided 101)', () => {
  test('on an unknown fact none holds; an interval must lie inside with both ends', () => {
    expect(limits('whorls', '', { thick: 6 })).toEqual(['1..3 warning']);
    expect(limits('whorls', '', { thick: [5, 6] })).toEqual(['1..2 warning']);
    expect(limits('whorls', '')).toEqual(['1..2 warning']);
    expect(limits('stored', '', { store: { low: -3, high: -3 } })).toEqual(['..120 warning']);
    expect(limits('stored', '', { store: { low: -3, high: 2 } })).toEqual(['..42 warning']);
    expect(limits('stored', '', {})).toEqual(['..42 warning']);
  });

  test('place flags, the day asked; `after … wait` from then on', () => {
    const larch = { plant: 'Larix decidua', group: 'shedding', on: '2027-01-10' } as const;
    expect(limits('frost', '', larch)).toEqual([]);
    expect(limits('frost', '', { ...larch, flags: ['frost-free'] })).toEqual(['..0 warning']);
    const step = (on: string) => limits('headback-step', '', { on, events: { free: '2027-05-20' } });
    expect(step('2028-05-18')).toEqual([`${1 / 3}..0.5 warning`]);
    expect(step('2028-05-19')).toEqual(['..1 warning']);
  });

  test('`age` is that of the event', () => {
    const look = (on: string) => practiceOf([]).work('look', 'word', who({ made: '2027-03-01', on }))?.wait;
    expect(look('2027-04-12')).toMatchObject({ low: 7, high: 14 });
    expect(look('2027-04-13')).toMatchObject({ low: 28, high: 42 });
  });

  test('`lat` is north or south', () => {
    const frost = (lat: number | undefined) =>
      practiceOf([]).yearDay('last-frost', who(lat === undefined ? {} : { lat }))?.at;
    expect([frost(48), frost(-48), frost(38), frost(undefined)]).toEqual([
      { month: 5, day: 15 },
      { month: 5, day: 15 },
      { month: 4, day: 30 },
      { month: 4, day: 30 },
    ]);
  });

  test('a date on the line: for work on or after that day (decided 92)', () => {
    const own = '2027-04-01 practice side cut 20..60%';
    expect(limits('cut', own, { on: '2027-03-31' })).toEqual(['0.3..0.5 warning']);
    expect(limits('cut', own, { on: '2027-04-01' })).toEqual(['0.2..0.6 warning']);
  });

  test('a line with something on it that can’t be read makes no rule: it might hold for more than was meant', () => {
    expect(limits('cut', 'practice side size 5 cut 20..60%')).toEqual(['0.3..0.5 warning']);
  });
});

describe('the year south and between the tropics (decided 78, 110)', () => {
  const pine = { plant: 'Pinus mugo', collected: '2027-07-10' } as const;
  test('months of the shipped file turn', () => {
    // cut in July is winter there: forty-two days, not seven
    expect(limits('stored', '', { ...pine, lat: -35, on: '2027-08-01' })).toEqual(['..42 warning']);
    expect(limits('stored', '', { ...pine, lat: 35, on: '2027-08-01' })).toEqual(['..7 warning']);
  });

  test('those of the log stand as written, but seasons turn in both', () => {
    const own = 'practice Pinus collected jul stored ..9d';
    expect(limits('stored', own, { ...pine, lat: -35, on: '2027-08-01' })).toEqual(['..9 warning']);
    expect(
      limits('stored', 'practice Pinus collected winter stored ..9d', { ...pine, lat: -35, on: '2027-08-01' }),
    ).toEqual(['..9 warning']);
    expect(
      limits('stored', 'practice Pinus collected winter stored ..9d', { ...pine, lat: 35, on: '2027-08-01' }),
    ).toEqual(['..7 warning']);
  });

  test('within 23.5° no rule with a season', () => {
    const there = { lat: -23.5, plant: 'Abies koreana', on: '2027-07-15' } as const;
    expect(off('', there)).toEqual([]);
    expect(off('practice Abies off jul', there)).toEqual([]);
    expect(practiceOf([]).needs('frost-free', who(there))).toBeUndefined();
    expect(practiceOf([]).needs('humid', who(there))).toBeDefined();
    expect(limits('stored', '', { ...pine, lat: 10, on: '2027-08-01' })).toEqual(['..42 warning']);
    expect(practiceOf([]).work('watch', 'graft', who({ lat: 10 }))).toBeUndefined();
    expect(off('', { ...there, lat: -23.6 })).not.toEqual([]);
  });
});

describe('an own line and closer shipped ones (decided 97, 110)', () => {
  test('are told, with where they stand and for whom', () => {
    const own = practiceOf(linesOf('practice any whorls 1..4'));
    const [row] = own.rows.slice(-1);
    expect(row && closerLines(row, own).map(whereText)).toEqual([
      'practice.graft:26, for needle conifers',
      'practice.graft:27, for needle conifers',
      'practice.graft:28, for Taxus',
      'practice.graft:29, for Podocarpus',
    ]);
    const pines = practiceOf(linesOf('practice Pinus whorls 1..4'));
    const [last] = pines.rows.slice(-1);
    expect(last && closerLines(last, pines)).toEqual([]);
    const chips = practiceOf(linesOf('practice chip-bud unpruned 1y..'));
    const [third] = chips.rows.slice(-1);
    expect(third && closerLines(third, chips)).toEqual([]);
  });

  test('a copied line keeps its meaning in a southern log', () => {
    const [line] = shippedLines().filter(({ line: { text } }) => text.includes('made autumn,winter  work watch'));
    expect(line && copyOf(line, 47)).toContain('made autumn,winter  work watch  after graft  wait mar-01..may-15');
    expect(line && copyOf(line, -35)).toContain('made autumn,winter  work watch  after graft  wait sep-01..nov-15');
    const [growth] = shippedLines().filter(({ line: { text } }) => text.includes('growth apr-15'));
    expect(growth && copyOf(growth, -35)).toContain('growth oct-15..mar-31');
    const [untie] = shippedLines().filter(({ line: { text } }) => text.includes('till jun-30'));
    expect(untie && copyOf(untie, -35)).toContain('till dec-31');
  });
});

test('fractions are shares, and `%` at the other end doesn’t serve them (decided 117)', () => {
  expect(limits('cut', '', { method: 'chip-bud' })).toEqual([`..${1 / 3} warning`]);
  expect(limits('cut', 'practice side cut 1/4..1/2')).toEqual(['0.25..0.5 warning']);
});
