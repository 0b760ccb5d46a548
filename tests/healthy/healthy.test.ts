import fc from 'fast-check';
import { expect, test } from 'vitest';
import { allCodes } from '#grammar/codes.ts';
import { asked, healthy, judge, slipped } from './cases.ts';
import { plantersOf } from './slips/index.ts';

// `npm run seasons` runs five thousand of each.

test('healthy seasons of all methods, genera and both hemispheres are silent', () => {
  fc.assert(fc.property(healthy, judge), asked(150));
});

test('every code has a way to slip', () => {
  expect(allCodes.filter((code) => plantersOf(code).length === 0)).toEqual([]);
});

test.each(allCodes)('one slip in a healthy season is told as %s on its line, and nothing else is', (code) => {
  fc.assert(fc.property(slipped(code), judge), asked(3));
});
