import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { depthForWidth, faceWidth, shareCutThrough, strengthLeft } from '#server/engine/figures/cut-geometry.ts';

/** tests/reference/circular-segment.csv: computed in R 4.2.2 from the formulas of plane areas, eight decimals. */
const rows = readFileSync(new URL('../../reference/circular-segment.csv', import.meta.url), 'utf8')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => line.split(',').map(Number));

test.each(rows)(
  'a cut of %d of the diameter',
  (k, chord, area, _arc, _cut, _rem, _i, _flat, _round, _zFlat, _zRound, strength) => {
    expect(faceWidth(10, 10 * k)).toBeCloseTo(10 * (chord as number), 6);
    expect(shareCutThrough(10, 10 * k)).toBeCloseTo(area as number, 7);
    expect(strengthLeft(10, 10 * k)).toBeCloseTo(strength as number, 7);
  },
);

test.each([
  [0.2, 70],
  [0.3, 52],
  [0.4, 37],
  [0.5, 24],
  [0.58, 16],
])('cut to %d of it, %d %% of the strength is left', (share, percent) => {
  expect(Math.round(100 * (strengthLeft(1, share) ?? 0))).toBe(percent);
});

test('9 mm cut 3.6 mm deep: face 8.8 mm, and the depth that gives a face its width', () => {
  expect(faceWidth(9, 3.6)).toBeCloseTo(8.818, 3);
  expect(depthForWidth(9, faceWidth(9, 3.6) as number)).toBeCloseTo(3.6, 9);
});

test('what can’t be has no figure', () => {
  expect([faceWidth(9, 9), shareCutThrough(0, 0), strengthLeft(9, 12), depthForWidth(4, 9)]).toEqual([
    null,
    null,
    null,
    null,
  ]);
});
