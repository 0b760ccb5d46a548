import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { blankEdits, hasError, laidOut, targetWidth } from '#grammar/layout.ts';
import { readLine } from '#grammar/line.ts';
import { lineEdits } from '#grammar/line-edits.ts';
import { placedIn } from '#grammar/stretches.ts';
import { tidy } from '#grammar/tidy.ts';
import { isTidy } from '#grammar/tidy-already.ts';
import { anyLine } from '../support/lines.ts';

const ways = [{}, { list: 'words' }, { list: 'keyed' }, { list: 'pair' }, { yearDays: true }] as const;
const whole = (text: string) => ({ start: 0, end: text.length });

describe('told by its signs', () => {
  const told = (text: string) => isTidy(text, 0, text.length);

  test.each([
    'cut 40%',
    'scion 4mm x 90mm',
    'lat 47.90',
    'by mk,jo',
    'K26.1..8,12',
    'K26.9..10 rest except K26.10',
    'K26.3,B26',
    'in bench-3',
    'Pinus parviflora / Pinus thunbergii',
    "Acer palmatum 'Osakazuki'",
    '"left,  as it was"',
  ])('%s is tidy', (text) => {
    expect(told(text)).toBe(true);
    for (const way of ways) expect(tidy(text, { ...way, span: whole(text) })).toBe(text);
  });

  test.each(['cut 40 %', '30..50%', '4mmx90mm', 'K26.8..1', 'K26.1-8', 'K26.1,2 x4', 'within mar-1', 'by mk, jo', ''])(
    '%s is taken apart',
    (text) => {
      expect(told(text)).toBe(false);
    },
  );

  test('what is told to be tidy would be written so, whatever it is part of', () => {
    const signs = fc.constantFrom(...'K2 1x,.-/"\'%m', ' ', 'mar', '..', ' x ', 'cm', 'in', '10', 'rest', 'ä');
    const text = fc.array(signs, { minLength: 1, maxLength: 9 }).map((parts) => parts.join(''));
    let found = 0;
    fc.assert(
      fc.property(text, (one) => {
        if (!told(one)) return;
        found++;
        for (const way of ways) expect(tidy(one, { ...way, span: whole(one) })).toBe(one);
      }),
      { numRuns: 20_000 },
    );
    expect(found).toBeGreaterThan(1000);
  });
});

test('where only blanks change, the edits are those of the line laid out anew', () => {
  let [short, long] = [0, 0];
  fc.assert(
    fc.property(anyLine, fc.nat({ max: 30 }), fc.nat({ max: 8 }), (text, wide, wider) => {
      // blanks as a hand puts them
      const line = readLine(text.replace(/ /g, (_, at) => ' '.repeat(1 + ((at * wider) % 3))));
      if (!line.statement || hasError(line)) return;
      const anew = laidOut(line, wide);
      const edits = blankEdits(line, line.statement, wide);
      if (edits) expect(edits).toEqual(lineEdits(line.text, anew));
      if (edits) short++;
      else long++;
    }),
    { numRuns: 5000 },
  );
  expect(Math.min(short, long)).toBeGreaterThan(100);
});

test('a target has the width it is laid out with', () => {
  fc.assert(
    fc.property(anyLine, (text) => {
      const line = readLine(text);
      if (!line.statement || hasError(line) || !laidOut(line, 0)) return;
      const [first, second] = placedIn(line.statement);
      const width = targetWidth(line);
      if (first?.span.start !== line.statement.sets[0]?.span.start) expect(width).toBe(0);
      // a wider column moves what stands behind the target, and by no more than it is wider
      else if (second) expect(laidOut(line, width + 3).length - laidOut(line, width).length).toBe(3);
    }),
    { numRuns: 2000 },
  );
});
