import { expect, test } from 'vitest';
import { escaped, plainText } from '#server/lsp/markdown.ts';

test('sets, methods and sentences stand as they are: some editors show a backslash', () => {
  for (const text of ['K26.1..12,14', 'side-veneer', 'Last word 9 Oct: look', '5 °C. Cold', '4.5 mm'])
    expect(escaped(text)).toBe(text);
});

test('what could be a link, a list, a picture, an element or a sum is none', () => {
  expect(escaped('www.example.org http://a.b mailto:a@b.c')).toBe(
    'www\\.example\\.org http\\://a\\.b mailto\\:a\\@b\\.c',
  );
  expect(escaped('[a](b) ![c](d) <e> `f` *g* _h_ ~~i~~ $j$ # k')).not.toMatch(/(?<!\\)[[\]()<>`*_~$#!]/);
  expect([escaped('- a'), escaped('1. a'), escaped('---')]).toEqual(['\\- a', '1\\. a', '\\-\\-\\-']);
  expect(escaped('two\nlines')).toBe('two lines');
});

test('as plain text it is what was written', () => {
  for (const text of ['K26.1 *www.example.org* `a` \\ - http://b', '---', '1. [a](b) <c>'])
    expect(plainText(escaped(text))).toBe(text);
  expect(plainText('**K26** · `open 20%`\n\n![a drawing](data:x)')).toBe('K26 · open 20%\n\n');
});
