import { createToken, Lexer } from 'chevrotain';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { allTokens, tokenize } from '#grammar/tokens.ts';
import { anyLine } from '../support/lines.ts';

const kinds = (text: string) => tokenize(text).map((token) => `${token.tokenType.name} ${token.image}`);

test('the first match in the notation’s order wins', () => {
  expect(kinds('2026-10-09 8:30 open K26.1..12,14 10 % # x')).toEqual([
    'DateWord 2026-10-09',
    'Time 8:30',
    'Word open',
    'Grafts K26.1..12,14',
    'Amount 10 %',
    'Comment # x',
  ]);
  expect(kinds('4mm x 90mm 8mm x60, 3/16in 1/3..1/2 -4..-1C ..1/3 x 2')).toEqual([
    'Size 4mm x 90mm',
    'Amount 8mm',
    'Count x60',
    'Amount 3/16in',
    'Interval 1/3..1/2',
    'Interval -4..-1C',
    'Interval ..1/3',
    'Times x',
    'NumberWord 2',
  ]);
  expect(kinds(`P. var. jul..mar mk,jo "a ""b""" 'C's' 12" ?`)).toEqual([
    'GenusDot P.',
    'Rank var.',
    'Span jul..mar',
    'Word mk',
    'ListComma ,',
    'Word jo',
    'Text "a ""b"""',
    "Cultivar 'C's'",
    'InchMark 12"',
    'Other ?',
  ]);
  // behind a set's comma a figure with its unit begins the next fact
  expect(kinds('K26.1..8, 10..12 %')).toEqual(['Grafts K26.1..8', 'Interval 10..12 %']);
  expect(kinds('K26.1, 4 x 90mm')).toEqual(['Grafts K26.1', 'Size 4 x 90mm']);
});

test('a line of plain ASCII is read as one with a letter beyond it', () => {
  const plainLine = fc
    .oneof(anyLine, fc.string({ unit: 'binary-ascii', maxLength: 60 }))
    .map((text) => text.replace(/[^\x20-\x7e]/g, 'x'));
  const placed = (text: string, by: number) =>
    tokenize(text).map(({ tokenType, image, startOffset }) => ({ type: tokenType.name, image, at: startOffset - by }));
  fc.assert(
    fc.property(plainLine, (text) => {
      expect(placed(text, 0)).toEqual(placed(`é ${text}`, 2).slice(1));
    }),
    { numRuns: 5000 },
  );
});

test('every character that is no blank is in a token', () => {
  fc.assert(
    fc.property(anyLine, (text) => {
      const tokens = tokenize(text);
      let at = 0;
      for (const { startOffset, image } of tokens) {
        expect(text.slice(at, startOffset)).toMatch(/^[\s\uFEFF,;:=]*$/);
        expect(text.slice(startOffset, startOffset + image.length)).toBe(image);
        at = startOffset + image.length;
      }
      expect(text.slice(at)).toMatch(/^[\s\uFEFF,;:=]*$/);
    }),
    { numRuns: 2000 },
  );
});

test('what a token may begin with hides no token: all of UTF-16 at the start of a word and of a figure', () => {
  const bare = new Map(
    allTokens.map((type) => [
      type.name,
      createToken({
        name: type.name,
        pattern: type.PATTERN as never,
        line_breaks: false,
        ...(type.GROUP === Lexer.SKIPPED ? { group: Lexer.SKIPPED } : {}),
      }),
    ]),
  );
  const slow = new Lexer([...bare.values()], { positionTracking: 'onlyOffset', skipValidations: true });
  for (let unit = 0; unit < 0x10000; unit++) {
    const text = `${String.fromCharCode(unit)}a.1 ${String.fromCharCode(unit)}2mm`;
    const wanted = slow.tokenize(text).tokens.map((token) => `${token.tokenType.name} ${token.image}`);
    const found = kinds(text);
    // one comparison of strings a unit: an assertion each would take minutes
    if (found.join('\n') !== wanted.join('\n')) expect(found, `U+${unit.toString(16)}`).toEqual(wanted);
  }
});

test('a pattern passed over for want of a sign would not have matched', () => {
  const patterns = allTokens.map(({ name, PATTERN }) => ({ name, ...(PATTERN as unknown as Pattern) }));
  fc.assert(
    fc.property(anyLine, (text) => {
      tokenize(text);
      for (const { name, exec, any } of patterns) {
        for (let at = 0; at < text.length; at++) {
          const found = exec(text, at)?.[0];
          any.lastIndex = at;
          const wanted = any.exec(text)?.[0];
          if (found !== wanted) expect(`${name} ${found}`, `${text} at ${at}`).toBe(`${name} ${wanted}`);
        }
      }
    }),
    { numRuns: 3000 },
  );
});

interface Pattern {
  exec(text: string, offset: number): RegExpExecArray | null;
  readonly any: RegExp;
}
