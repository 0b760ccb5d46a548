import { describe, expect, test } from 'vitest';
import type { Code } from '#grammar/codes.ts';
import { listed, nursery } from './support.ts';

/* "I know": what an `accept` silences, and for whom. */

const log = (...lines: readonly string[]) => `${nursery}
place  shed  shade wind-break
tree   T14  Pinus thunbergii  in shed
batch  K27  Pinus parviflora 'Tenysu' / Pinus thunbergii  side  film
batch  J27  Juniperus chinensis / Juniperus chinensis  side-veneer  film  in shed
${lines.join('\n')}
2027-03-15
graft  K27.1..4  onto T14  cut 20%
graft  K27.5,6   onto T5   cut 20%
graft  J27.1     cut 5%
`;
const only: readonly Code[] = ['cut-shallow'];
const shallow = (...lines: readonly string[]) =>
  listed(log(...lines), { on: '2027-03-20', only }).map((line) => line.split(' ').at(-1));

describe('whom it is for: any of its scopes', () => {
  test.each([
    ['accept wood-soft', ['K27.1..4', 'K27.5,6', 'J27.1']],
    ['accept cut-shallow', []],
    ['accept cut-deep,cut-shallow  any', []],
    ['accept cut-shallow K27 "thin bark"', ['J27.1']],
    ['accept cut-shallow K27.1..4', ['K27.5,6', 'J27.1']],
    ['accept cut-shallow K27.2,5', ['K27.1,3,4', 'K27.6', 'J27.1']],
    ['accept cut-shallow T14', ['K27.5,6', 'J27.1']],
    ['accept cut-shallow shed', ['K27.5,6']],
    ['accept cut-shallow side', ['J27.1']],
    ['accept cut-shallow scale', ['K27.1..4', 'K27.5,6']],
    ['accept cut-shallow needle side-veneer', []],
    ["accept cut-shallow Pinus parviflora 'Tenysu'", ['J27.1']],
    ["accept cut-shallow Pinus parviflora 'Kokonoe'", ['K27.1..4', 'K27.5,6', 'J27.1']],
    ['accept cut-shallow detached', []],
  ])('%s', (line, left) => {
    expect(shallow(line)).toEqual(left);
  });
});

test('a date on it: for work on or after that day', () => {
  expect(shallow('2027-03-16  accept cut-shallow')).toEqual(['K27.1..4', 'K27.5,6', 'J27.1']);
  expect(shallow('2027-03-15  accept cut-shallow')).toEqual([]);
});

test('on the line it silences that line', () => {
  const text = log().replace('onto T14  cut 20%', 'onto T14  cut 20%  accept cut-shallow');
  expect(listed(text, { on: '2027-03-20', only })).toEqual([
    '12 warning cut-shallow K27.5,6',
    '13 warning cut-shallow J27.1',
  ]);
});

test('never an error', () => {
  const text = `${nursery}
accept wrap-shrank
batch  K27  Pinus parviflora / Pinus thunbergii  side  film  onto T5
2027-03-15  graft  K27.1  cut 40%  out 2cm
2027-04-05  swell  K27.1
2027-04-06  open   K27.1  10%
2027-04-17  open   K27.1  5%
`;
  expect(listed(text, { on: '2027-04-20', all: true })).toEqual(['10 error wrap-shrank K27.1']);
});

test('attention, findings on readings, places and lots, too', () => {
  const text = (accept: string) => `${nursery}
place  pit  capacity 2  shade wind-break
place  shed  at 12C
${accept}
batch  K26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in pit
2026-10-01  collect  L1  Pinus parviflora  in shed
2026-10-10  graft    K26.1..3  lot L1
2026-11-20  reading  pit  min -2C
2027-03-20  swell    K26
`;
  expect(listed(text(''), { on: '2027-07-01' })).toEqual([
    '9 warning stored-warm',
    '10 warning frost-cover-missing K26.1..3',
    '10 information place-full K26.1..3',
    '11 warning froze K26.1..3',
    '12 information silent K26.1..3',
  ]);
  expect(listed(text('accept stored-warm,frost-cover-missing,place-full,froze,silent'), { on: '2027-07-01' })).toEqual(
    [],
  );
  expect(
    listed(text('accept frost-cover-missing,place-full,froze  pit\naccept stored-warm shed'), { on: '2027-07-01' }),
  ).toEqual(['13 information silent K26.1..3']);
});

test('what is said once a batch and place is said of the next line, where the first is accepted', () => {
  const text = `${nursery}
place  shed  shade wind-break
batch  K26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in shed
2026-10-10  graft  K26.1  accept frost-cover-missing
2026-10-11  graft  K26.2
2026-10-12  graft  K26.3
`;
  expect(listed(text, { on: '2026-10-20' })).toEqual(['8 warning frost-cover-missing K26.2']);
});
