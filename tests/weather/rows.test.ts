import { describe, expect, test } from 'vitest';
import { rowsIn } from '#server/weather/rows.ts';

const all = (text: string) => [...rowsIn(text)];

test('rows as they stand, blank ones among them, so that a row keeps its number', () => {
  expect(all('a,b\r\n1,"2, 3"\r\n\r\n4,5')).toEqual([['a', 'b'], ['1', '2, 3'], [''], ['4', '5']]);
  expect(all('a;b\n1;2\n')).toEqual([
    ['a', 'b'],
    ['1', '2'],
  ]);
  expect(all('a,b\r1,2\r')).toEqual([
    ['a', 'b'],
    ['1', '2'],
  ]);
  expect(all('')).toEqual([]);
});

test('a long file is taken apart in blocks, and reads as if it were not', () => {
  const lines = Array.from({ length: 120_000 }, (_, i) => (i % 1000 === 7 ? '' : `row ${i};"${i}"`));
  const rows = all(`${lines.join('\n')}\n`);
  expect(rows).toHaveLength(lines.length);
  const wrong = rows.findIndex(
    (row, i) => JSON.stringify(row) !== JSON.stringify(i % 1000 === 7 ? [''] : [`row ${i}`, `${i}`]),
  );
  expect(wrong).toBe(-1);
});

describe('what no station has ends the reading with a reason, before it fills the memory', () => {
  const last = (text: string) => all(text).at(-1);
  test('a row of a million characters', () => {
    expect(last(`DATE,TMIN\n${','.repeat(1_000_000)}\n`)).toEqual({
      refused: 'has 1,000,000 characters in row 2: a row is one day',
    });
  });
  test('more rows than a thousand years have days', () => {
    expect(last(`DATE,TMIN\n${'x\n'.repeat(500_000)}`)).toEqual({
      refused: 'has more than 400,000 rows: a station’s file has one a day',
    });
  });
  test('a quote that swallows what follows it; the row is counted over all blocks', () => {
    const row = `2026-01-01,${'1'.repeat(90)}\n`;
    expect(last(`DATE,TMIN\n${row.repeat(9_998)}"never${row.repeat(20_000)}`)).toEqual({
      refused: 'has a quote in row 10000 that never ends or ends too early',
    });
  });
});
