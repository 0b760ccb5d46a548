import { expect, test } from 'vitest';
import { tryInputs } from './any-bytes.ts';

// New inputs in every run; `SEED=<number>` goes back to those that failed.
const seed = Number(process.env.SEED) || undefined;

/** A million inputs; `npm run fuzz`. */
test('a million inputs: no reader throws, and what it says holds', () => {
  const sums = new Map<string, number>();
  for (let round = 0; round < 100; round++)
    for (const [kind, inputs] of Object.entries(tryInputs(10_000, seed)))
      sums.set(kind, (sums.get(kind) ?? 0) + inputs);
  console.log([...sums].map(([kind, inputs]) => `${kind}  ${inputs}`).join('\n'));
  expect([...sums.values()].reduce((all, one) => all + one, 0)).toBe(1_000_000);
});
