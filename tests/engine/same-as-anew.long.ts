import { expect, test } from 'vitest';
import { sameAsAnew } from './same-as-anew.ts';

/** A hundred thousand random edits; `npm run edits`. */
test('after a hundred thousand edits every answer is the one of the same text read anew', () => {
  let edits = 0;
  while (edits < 100_000) edits += sameAsAnew(500);
  expect(edits).toBeGreaterThanOrEqual(100_000);
});
