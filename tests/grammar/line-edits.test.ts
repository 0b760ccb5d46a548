import fc from 'fast-check';
import { expect, test } from 'vitest';
import { formatText } from '#grammar/format.ts';
import { lineEdits } from '#grammar/line-edits.ts';
import { anyLine } from '../support/lines.ts';
import { applied } from '../support/reading.ts';

/** What is taken out and put in, with where: `5-7 ""`. */
const shown = (before: string, after: string) =>
  lineEdits(before, after).map(({ span, text }) => `${span.start}-${span.end} "${text}"`);

test('of blanks only those too many or too few are touched, of a figure only what is spelled anew', () => {
  expect(shown('graft K26.1-11 cut 40 %, whorls 2', 'graft    K26.1..11  cut 40%  whorls 2')).toEqual([
    '6-6 "   "',
    '11-12 ".."',
    '15-15 " "',
    '21-22 ""',
    '23-24 " "',
  ]);
  expect(shown('take     K26', 'take     K26')).toEqual([]);
  expect(shown('take     K26   ', 'take     K26')).toEqual(['12-15 ""']);
});

test('applied to a line they give its layout', () => {
  fc.assert(
    fc.property(anyLine, (line) => {
      if (/[\r\n]/.test(line)) return;
      const laidOut = formatText(line);
      expect(applied(line, lineEdits(line, laidOut))).toBe(laidOut);
    }),
    { numRuns: 1000 },
  );
});

test('any text becomes any other', () => {
  const words = fc.array(fc.constantFrom('a', 'b', 'cd', ' ', '  ', ',', '40'), { maxLength: 20 });
  fc.assert(
    fc.property(words, words, (before, after) => {
      expect(applied(before.join(''), lineEdits(before.join(''), after.join('')))).toBe(after.join(''));
    }),
    { numRuns: 1000 },
  );
});
