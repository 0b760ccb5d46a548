import { expect, test } from 'vitest';
import { readLine } from '#grammar/line.ts';
import { applied } from '../support/reading.ts';

/** What the mends of a line's only problem make of it, each tried: the problem is gone. */
function mended(text: string): string[] {
  const { problems } = readLine(text);
  expect(problems, text).toHaveLength(1);
  return (problems[0]?.mends ?? []).map((mend) => {
    const after = applied(text, mend.edits);
    expect(readLine(after).problems, after).toEqual([]);
    return after;
  });
}

test.each([
  // the unit slipped
  ['graft K26.1  long 30cm', ['graft K26.1  long 30mm', 'graft K26.1  long 3cm']],
  ['graft K26.1  stock 1mm', ['graft K26.1  stock 1cm', 'graft K26.1  stock 1in', 'graft K26.1  stock 10mm']],
  ['graft K26.1  cut 1%', ['graft K26.1  cut 1mm', 'graft K26.1  cut 1cm', 'graft K26.1  cut 1in']],
  ['graft K26.1  long 20..30cm', ['graft K26.1  long 20..30mm', 'graft K26.1  long 2..3cm']],
  ['reading frame  min 95C', ['reading frame  min 95F', 'reading frame  min 9.5C']],
  // the point
  ['graft K26.1  cut 400%', ['graft K26.1  cut 40%']],
  ['place frame  lat 479', ['place frame  lat 47.9']],
  ['graft K26.1  scion 4mm x 900mm', ['graft K26.1  scion 4mm x 90mm']],
  ['graft K26.1  scion 40 x 90mm', ['graft K26.1  scion 4mm x 90mm']],
  ['graft K26.1  whorls 20', ['graft K26.1  whorls 2']],
  // two lengths that can't both be
  ['graft K26.1  long 8mm  short 30mm', ['graft K26.1  long 30mm  short 8mm']],
  ['graft K26.1  cut 40mm  stock 9mm', ['graft K26.1  cut 40%  stock 9mm', 'graft K26.1  cut 4mm  stock 9mm']],
  // nothing likely
  ['graft K26.1  whorls 35', []],
  ['take K26 x0', []],
])('a figure no graft can have: %s', (text, after) => {
  expect(mended(text)).toEqual(after);
});

test.each([
  ['2027-02-30  check K26', ['2027-02-28  check K26', '2027-03-01  check K26']],
  ['2027-13-04', ['2027-04-13']],
  ['2027-04-31', ['2027-04-30', '2027-05-01']],
  ['2027-04-92', []],
  ['2027-00-12', []],
  ['practice any  within feb-30..apr-31  needs shade', ['practice any  within feb-28..apr-30  needs shade']],
  ['practice any  last-frost jun-31', ['practice any  last-frost jun-30']],
  ['practice any  last-frost jun-0', []],
])('a day no calendar has: %s', (text, after) => {
  expect(mended(text)).toEqual(after);
});
