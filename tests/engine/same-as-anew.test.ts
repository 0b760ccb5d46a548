import { expect, test } from 'vitest';
import { sameAsAnew } from './same-as-anew.ts';

test('after any edits every answer is the one of the same text read anew', () => {
  expect(sameAsAnew(120)).toBeGreaterThan(500);
}, 120_000);
