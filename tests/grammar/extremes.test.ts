import { expect, test } from 'vitest';
import { greatest, least } from '#grammar/values/extremes.ts';

test('the ends of more numbers than a call takes', () => {
  const many = Array.from({ length: 1_000_000 }, (_, i) => (i * 7919) % 1_000_003);
  expect(() => Math.max(...many)).toThrow(RangeError);
  expect([least(many), greatest(many)]).toEqual([0, many.toSorted((a, b) => a - b).at(-1)]);
  expect([least([]), greatest([])]).toEqual([Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]);
});
