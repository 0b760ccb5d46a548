import { expect, test } from 'vitest';
import { practiceOf, shippedLines } from '#server/engine/practice.ts';

test('every line of the shipped practice can be read', () => {
  const unread = shippedLines().flatMap(({ line, rank }) => line.problems.map((problem) => `${rank + 1}: ${problem.message}`));
  expect(unread).toEqual([]);
  expect(practiceOf([]).rows.length).toBeGreaterThan(133);
});
