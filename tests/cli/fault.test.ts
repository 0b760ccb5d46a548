import { expect, test } from 'vitest';
import { faultText } from '#server/node/cli/fault.ts';

test('a fault nobody foresaw is one sentence: what it is and where', () => {
  const error = new RangeError('Maximum call stack size exceeded');
  error.stack = `RangeError: Maximum call stack size exceeded\n    at survival (/app/dist/cli.js:9:1)\n    at stats (/app/dist/cli.js:7:1)`;
  expect(faultText(error)).toBe(
    'This is a fault in graftlog, not in your log: RangeError: Maximum call stack size exceeded (survival (/app/dist/cli.js:9:1)).',
  );
  expect(faultText('gone')).toBe('This is a fault in graftlog, not in your log: gone.');
});
