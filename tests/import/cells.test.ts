import { describe, expect, test } from 'vitest';
import { isoDay } from '#grammar/values/date.ts';
import { factText } from '#server/import/cells.ts';
import { orderOf, readDateCell } from '#server/import/dates.ts';
import type { FactName } from '#server/import/facts.ts';
import { dashesOf, readGraftCell } from '#server/import/grafts.ts';
import { factFor, headerUnit } from '#server/import/headers.ts';
import { isName, namesOfSheet } from '#server/import/names.ts';
import { generaOf, pairText, plantText } from '#server/import/plants.ts';
import { readLosses, readVerdict } from '#server/import/words.ts';

describe('headers', () => {
  test.each([
    ['Date grafted', 'date'],
    ['GRAFTING DATE', 'date'],
    ['Graft #', 'graft'],
    ['Tag No.', 'graft'],
    ['Graft', 'graft'],
    ['Grafts', 'count'],
    ['No. of grafts', 'count'],
    ['Qty', 'count'],
    ['Scion species', 'plant'],
    ['Cultivar', 'cultivar'],
    ['Rootstock species', 'understock'],
    ['Rootstock caliper (mm)', 'stock'],
    ['Rootstock diam.', 'stock'],
    ['Take?', 'take'],
    ['Success', 'take'],
    ['% take', 'take-share'],
    ['Date of death', 'fail-day'],
    ['Reason for failure', 'cause'],
    ['Comments', 'remark'],
    ['Grafted by', 'by'],
    ['Mother tree', 'from'],
    ['Cut depth %', 'cut'],
    ['constructor', undefined],
    ['Shelf', undefined],
  ])('%s is %s', (header, fact) => expect(factFor(header)?.fact).toBe(fact));
  test.each([
    ['Scion length (mm)', 'mm'],
    ['Stock [cm]', 'cm'],
    ['Depth of cut %', '%'],
    ['Film width, inches', 'in'],
    ['Scion length', undefined],
  ])('%s has the unit %s', (header, unit) => expect(headerUnit(header)).toBe(unit));
});

describe('dates', () => {
  const read = (cell: string) => {
    const found = readDateCell(cell);
    return found && Object.fromEntries(Object.entries(found.days).map(([order, day]) => [order, isoDay(day)]));
  };
  const all = (day: string) => ({ iso: day, us: day, eu: day });
  test.each([
    ['2024-10-09', all('2024-10-09')],
    ['2024/10/9', all('2024-10-09')],
    ['20241009', all('2024-10-09')],
    ['2024-10-09T00:00:00', all('2024-10-09')],
    ['9 Oct 2024', all('2024-10-09')],
    ['9-Oct-24', all('2024-10-09')],
    ['October 9th, 2024', all('2024-10-09')],
    ['Wed, 9 October 2024', all('2024-10-09')],
    ['10/9/2024', { us: '2024-10-09', eu: '2024-09-10' }],
    ['9.10.24', { us: '2024-09-10', eu: '2024-10-09' }],
    ['10/19/2024', { us: '2024-10-19' }],
    ['19.10.2024', { eu: '2024-10-19' }],
    ['24-05-01', { iso: '2024-05-01', eu: '2001-05-24' }],
    ['31/02/2024', {}],
    ['2023-02-29', {}],
    ['spring', undefined],
    ['45574', undefined],
    ['1/2', undefined],
    ['9 Foo 2024', undefined],
    ['', undefined],
  ])('%s', (cell, days) => expect(read(cell)).toEqual(days));
  test('a time of day stays, midnight is a spreadsheet’s habit', () => {
    expect(readDateCell('2024-10-09 14:30')?.time).toBe('14:30');
    expect(readDateCell('10/9/2024 2:30 PM')?.time).toBe('2:30 PM');
    expect(readDateCell('2024-10-09 00:00:00')?.time).toBeUndefined();
  });

  const column = (...cells: string[]) =>
    orderOf({ header: 'Date', cells: cells.map((cell, i) => ({ row: i + 2, cell })) });
  test('one row decides for the column, and is named', () => {
    expect(column('3/4/2024', '3/14/2024')).toEqual({
      order: 'us',
      decided: 'the month first, as row 3 shows: 3/14/2024',
    });
    expect(column('3.4.2024', '14.3.2024')).toEqual({
      order: 'eu',
      decided: 'the day first, as row 3 shows: 14.3.2024',
    });
  });
  test('the year first needs no decision, nor do months by name', () => {
    expect(column('2024-03-04', '4 Mar 2024')).toEqual({ order: 'iso' });
  });
  test('days that are the same both ways need none', () => expect(column('3/3/2024')).toEqual({ order: 'us' }));
  test('two rows may decide together', () => {
    // 24-13-01 is no day with the year first, 13-05-24 none with the month first
    expect(column('01-02-24', '13-05-32')).toMatchObject({ order: 'eu' });
  });
  test('a column nothing decides is asked for, with both readings of a row', () => {
    expect(column('2024-01-01', '3/3/2024', '3/4/2024')).toEqual({
      ask: '“3/4/2024” (row 4 of “Date”) is 2024-03-04 (--dates us: the month first) or 2024-04-03 (--dates eu: the day first), and no row of the column decides: say which.',
    });
  });
  test('a column of two kinds is asked for, with a row of each', () => {
    expect(column('14/3/2024', '3/14/2024')).toEqual({
      ask: '“Date” has dates of two kinds: “3/14/2024” (row 3) is a day only with the month first (--dates us), “14/3/2024” (row 2) is a day only with the day first (--dates eu): say which; rows that don’t fit are left.',
    });
  });
});

describe('how it did', () => {
  test.each([
    ['Yes', 'yes'],
    ['x', 'yes'],
    ['✓', 'yes'],
    ['taken', 'yes'],
    ['N', 'no'],
    ['dead.', 'no'],
    ['not taken', 'no'],
    ['?', 'open'],
    ['too early to say', 'open'],
    ['unknown', 'open'],
    ['12', 'count'],
    ['dried out', 'cause'],
    ['no - rotted', 'cause'],
    ['dead (girdled)', 'cause'],
    ['maybe', undefined],
    ['dry', undefined],
    ['moved', undefined],
    ['yes?', undefined],
    ['constructor', undefined],
  ])('%s is %s', (cell, kind) => expect(readVerdict(cell)?.kind).toBe(kind));
  test.each([
    ['dried', [{ cause: 'dried' }]],
    ['Frost', [{ cause: 'frozen', own: 'Frost' }]],
    [
      '3 dried, 2 botrytis',
      [
        { cause: 'dried', count: 3 },
        { cause: 'rotted', count: 2, own: 'botrytis' },
      ],
    ],
    ['rootstock died', [{ cause: 'stock', own: 'rootstock died' }]],
    ['slugs', [{ cause: 'pest', own: 'slugs' }]],
    ['dried or rotted', undefined],
    ['dried, rotted', undefined],
    ['bad luck', undefined],
  ])('%s', (cell, losses) => expect(readLosses(cell)).toEqual(losses));
});

describe('which grafts', () => {
  const sheet = { batches: false, counts: false, dashes: 'range' } as const;
  test.each([
    ['K26.3', { batch: 'K26', numbers: [3, 3] }],
    ['K26-003', { batch: 'K26', numbers: [3, 3] }],
    ['k26 / 12', { batch: 'k26', numbers: [12, 12] }],
    ['A17', { batch: 'A', numbers: [17, 17] }],
    ['#12', { numbers: [12, 12] }],
    ['1-40', { numbers: [1, 40] }],
    ['1..3, 7', { numbers: [1, 3, 7, 7] }],
    ['K26.1-12,14', { batch: 'K26', numbers: [1, 12, 14, 14] }],
    ['0', undefined],
    ['1000000', undefined],
    ['by the gate', undefined],
  ])('%s', (cell, graft) => expect(readGraftCell(cell, '', sheet)).toEqual(graft));
  test('inside its batch a tag’s own start is no news', () => {
    const own = { ...sheet, batches: true };
    expect(readGraftCell('K26-003', 'K26', own)).toEqual({ numbers: [3, 3] });
    expect(readGraftCell('K26-1-40', 'K26', own)).toEqual({ numbers: [1, 40] });
  });
  test('24-040, 24-041 are numbers of a batch 24, 1-40, 41-80 are ranges', () => {
    const dashes = (...cells: string[]) => dashesOf(cells.map((cell) => ({ batch: '', cell })));
    expect(dashes('24-040', '24-041')).toBe('batch');
    expect(dashes('1-40', '41-80')).toBe('range');
    expect(readGraftCell('24-040', '', { ...sheet, dashes: 'batch' })).toEqual({ batch: '24', numbers: [40, 40] });
  });
});

describe('plants', () => {
  const genera = generaOf(['Pinus parviflora', 'Malus']);
  test.each([
    ['Pinus parviflora', 'Pinus parviflora'],
    ['pinus mugo', 'Pinus mugo'],
    ['Picea glauca Conica', "Picea glauca 'Conica'"],
    ['Picea pungens "Hoopsii"', "Picea pungens 'Hoopsii'"],
    ["Abies koreana 'Horstmann's Silberlocke'", "Abies koreana 'Horstmann's Silberlocke'"],
    ['Picea glauca var. albertiana Conica', "Picea glauca var. albertiana 'Conica'"],
    ["Taxus × media 'Hicksii'", "Taxus × media 'Hicksii'"],
    ['Pinus', 'Pinus'],
    ["Pinus 'Kokonoe'", "Pinus 'Kokonoe'"],
    // no genus is guessed from one word, and English names are none
    ['Malus', undefined],
    ['Kokonoe', undefined],
    ['Japanese maple', undefined],
    ['Scots pine', undefined],
    ['Blue arrow', undefined],
    ['Douglas fir', undefined],
    ['Norway spruce', undefined],
    ['M9', undefined],
    ['Pinus mugo in frame', undefined],
  ])('%s is %s', (cell, text) => expect(plantText(cell, genera)).toBe(text));
  test('a pair in one cell', () => {
    expect(pairText('Pinus parviflora on P. thunbergii', genera)).toBe('Pinus parviflora / Pinus thunbergii');
    expect(pairText('Kokonoe on black pine', genera)).toBeUndefined();
  });
});

describe('facts as the notation has them', () => {
  test.each<[FactName, string, string | undefined, string | undefined]>([
    ['cut', '40', '%', 'cut 40%'],
    ['cut', '40 %', undefined, 'cut 40 %'],
    ['cut', '1/3', undefined, 'cut 1/3'],
    ['cut', '40', undefined, undefined],
    ['cut', '300', '%', undefined],
    ['stock', '9,5', 'mm', 'stock 9.5mm'],
    ['stock', '3/8"', undefined, 'stock 3/8in'],
    ['scion', '4 x 90', 'mm', 'scion 4 x 90mm'],
    ['long', '3 cm', 'mm', 'long 3cm'],
    ['film', 'yes', undefined, 'film'],
    ['whorls', '2', undefined, 'whorls 2'],
    ['unpruned', '1 year', undefined, 'unpruned 1y'],
    ['method', 'Whip & Tongue', undefined, 'whip-and-tongue'],
    ['method', 'cleft graft', undefined, 'cleft'],
    ['method', 'magic', undefined, undefined],
    ['side', 'Underside', undefined, 'under'],
    ['tie', 'rubber', undefined, 'tie rubber'],
    ['tie', 'green "stretch" film', undefined, 'tie "green ""stretch"" film"'],
    ['tie', 'in', undefined, 'tie "in"'],
    ['by', 'mk & ro', undefined, 'by mk,ro'],
    ['by', 'M. K.', undefined, 'by M-K'],
    ['by', '?', undefined, undefined],
  ])('%s: %s (%s)', (fact, cell, unit, text) => expect(factText(fact, cell, unit)).toBe(text));
});

describe('names', () => {
  test('begin with a letter, hold together, are no word of the notation and belong to one thing', () => {
    const names = namesOfSheet([]);
    expect(names.nameOf('place', 'Cold frame')).toBe('Cold-frame');
    expect(names.nameOf('place', 'cold  FRAME')).toBe('Cold-frame');
    expect(names.nameOf('batch', '26')).toBe('B26');
    expect(names.nameOf('batch', 'spring')).toBe('B-spring');
    expect(names.nameOf('tree', 'cold-frame')).toBe('cold-frame-2');
    expect(names.nameOf('tree', '#?!')).toBe('T');
    expect(names.nameOf('tree', 'x40')).toBe('T-x40');
    expect(names.nameOf('batch', 'a'.repeat(300))).toHaveLength(40);
    expect(names.derive('pines', 'P24')).toBe('P24');
    expect(names.derive('spruces', 'P24')).toBe('P24b');
    expect(names.derive('pines', 'P24')).toBe('P24');
  });
  test.each(['shade', 'x', 'x40', 'tape', 'union', 'veneer', 'any', '26', 'a b'])('%s is none', (name) =>
    expect(isName(name)).toBe(false),
  );
});
