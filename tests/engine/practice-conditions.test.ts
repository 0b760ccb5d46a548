import { describe, expect, test } from 'vitest';
import { practiceOf, shippedLines } from '#server/engine/practice.ts';
import { closerLines, copyOf, whereText } from '#server/engine/practice-closer.ts';
import { limits, linesOf, off, who } from '../support/practice-asked.ts';

describe('conditions', () => {
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

  test('a date on the line: for work on or after that day', () => {
    const own = '2027-04-01 practice side cut 20..60%';
    expect(limits('cut', own, { on: '2027-03-31' })).toEqual(['0.3..0.5 warning']);
    expect(limits('cut', own, { on: '2027-04-01' })).toEqual(['0.2..0.6 warning']);
  });

  test('a line with something on it that can’t be read makes no rule: it might hold for more than was meant', () => {
    expect(limits('cut', 'practice side size 5 cut 20..60%')).toEqual(['0.3..0.5 warning']);
  });
});

describe('the year south and between the tropics', () => {
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

describe('an own line and closer shipped ones', () => {
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

test('fractions are shares, and `%` at the other end doesn’t serve them', () => {
  expect(limits('cut', '', { method: 'chip-bud' })).toEqual([`..${1 / 3} warning`]);
  expect(limits('cut', 'practice side cut 1/4..1/2')).toEqual(['0.25..0.5 warning']);
});
