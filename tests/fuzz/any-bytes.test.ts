import { expect, test } from 'vitest';
import { tryInputs } from './any-bytes.ts';

test('five thousand inputs: no reader throws', () => {
  const tried = Object.values(tryInputs(5000));
  expect(tried.reduce((sum, one) => sum + one, 0)).toBe(5000);
}, 120_000);
