import fc from 'fast-check';
import { afterAll, describe, test } from 'vitest';
import { allCodes } from '#grammar/codes.ts';
import { asked, type Case, healthy, judge, slipped } from './cases.ts';

const runs = 5000;
// New seasons in every run; `SEED=<number>` goes back to those that failed.
const seed = Number(process.env.SEED) || undefined;
const each = Math.ceil(runs / allCodes.length);
const counts = new Map<string, number>();
const count = (what: string, by = 1): void => void counts.set(what, (counts.get(what) ?? 0) + by);

afterAll(() => {
  const rows = [...counts].sort(([a], [b]) => (a < b ? -1 : 1));
  console.log(rows.map(([what, number]) => `${what}  ${number}`).join('\n'));
});

describe(`${runs} healthy seasons`, () => {
  test('are silent', () => {
    const tallied = (one: Case): void => {
      judge(one);
      count('seasons', 1);
      count('lines', one.season.lines.length);
      const lat = one.season.calendar.lat;
      count(
        `seasons ${lat === undefined ? 'nowhere said' : Math.abs(lat) < 23.5 ? 'tropical' : lat < 0 ? 'southern' : 'northern'}`,
      );
      for (const { method, pair } of one.season.batches) {
        count(`batches ${method}`);
        count(`batches ${pair?.group ?? 'of plants untold'}`);
        if (pair) count(`genus ${pair.genus}`);
      }
    };
    fc.assert(fc.property(healthy, tallied), asked(runs, seed));
  });
});

describe(`${each} slips a code`, () => {
  test.each(allCodes)('%s is told on its line, and nothing else is', (code) => {
    const tallied = (one: Case): void => {
      judge(one);
      count(`slips ${code}`);
    };
    fc.assert(fc.property(slipped(code), tallied), asked(each, seed));
  });
});
