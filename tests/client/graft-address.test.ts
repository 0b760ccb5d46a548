import { expect, test } from 'vitest';
import { graftOf, isGraftNumber } from '../../client/graft-address.ts';

const asked = (path: string) => graftOf({ path });

test('an address names a graft, a batch, or all that a label says with its number first', () => {
  expect(asked('/graft/K26.12')).toBe('K26.12');
  expect(asked('/graft/K26')).toBe('K26');
  expect(asked('/graft/K26.12 2026-10-09 Pinus parviflora')).toBe('K26.12');
  expect(asked('/graft/Küche-2.7')).toBe('Küche-2.7');
});

test('what is no graft’s number is not looked up, and never shown back', () => {
  for (const path of [
    '/',
    '/graft',
    '/graft/',
    '/other/K26.12',
    '/graft/a/b',
    '/graft/[x](command:quit)',
    '/graft/../x',
  ])
    expect(asked(path)).toBeUndefined();
  expect(asked(`/graft/${'K'.repeat(1000)}`)).toBeUndefined();
  expect(isGraftNumber('K26.12]')).toBe(false);
});
