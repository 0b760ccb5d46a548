import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  cambiumLength,
  depthForWidth,
  faceWidth,
  shareCutThrough,
  strengthLeft,
} from '#server/engine/figures/cut-geometry.ts';
import { referenceRows } from '../../support/tables.ts';

/*
 * circular-segment.csv: computed in R from the formulas of plane areas, and again by integrating strips
 * (tests/reference/README.md). The formulas: Roark's Formulas for Stress and Strain, table of plane areas; from memory.
 */

test.each(referenceRows('circular-segment.csv'))('a cut of $k of the diameter', (row) => {
  const k = Number(row.k);
  // the table has eight decimals, of 1/3 too: a third and a depth in mm of it differ by what the eighth hides
  expect((faceWidth(10, 10 * k) ?? Number.NaN) / 10).toBeCloseTo(Number(row.chord_over_D), 7);
  expect(shareCutThrough(10, 10 * k)).toBeCloseTo(Number(row.cut_area_frac), 7);
  expect(strengthLeft(10, 10 * k)).toBeCloseTo(Number(row.Z_min_ratio), 7);
});

describe('by hand', () => {
  test('half a branch: I = (π/8 − 8/(9π)) R⁴ about its centroid, which lies 4R/(3π) from the cut', () => {
    const radius = 5;
    const inertia = (Math.PI / 8 - 8 / (9 * Math.PI)) * radius ** 4;
    const farthest = radius - (4 * radius) / (3 * Math.PI);
    expect(strengthLeft(10, 5)).toBeCloseTo(inertia / farthest / ((Math.PI * 10 ** 3) / 32), 12);
    expect([faceWidth(10, 5), shareCutThrough(10, 5)]).toEqual([10, 0.5]);
  });

  test('a quarter deep: the face is half √3 of the diameter', () => {
    expect(faceWidth(8, 2)).toBeCloseTo(4 * Math.sqrt(3), 12);
  });

  test('10 mm, 2 mm deep: face 8 mm (a right triangle of 3, 4 and 5), 68.2361 mm³ of 98.1748 (R)', () => {
    expect(faceWidth(10, 2)).toBeCloseTo(8, 12);
    expect(strengthLeft(10, 2)).toBeCloseTo(68.2361 / 98.1748, 5);
    expect(depthForWidth(10, 8)).toBeCloseTo(2, 12);
  });
});

test.each([
  [0.2, 70],
  [0.3, 52],
  [0.4, 37],
  [0.5, 24],
  [0.58, 16],
])('cut to %d of it, %d %% of the strength is left, as messages say', (share, percent) => {
  expect(Math.round(100 * (strengthLeft(1, share) ?? Number.NaN))).toBe(percent);
});

test.each([
  [3.6, 8.8, 37, 37],
  [2, 7.5, 17, 66],
])('9 mm cut %d mm deep: face %d mm, %d %% cut through, %d %% of the strength left', (depth, face, through, left) => {
  const percent = (share: number | null) => Math.round(100 * (share ?? Number.NaN));
  expect(faceWidth(9, depth)).toBeCloseTo(face, 1);
  expect([percent(shareCutThrough(9, depth)), percent(strengthLeft(9, depth))]).toEqual([through, left]);
});

test('cambium meets along one edge of the face, or along both', () => {
  expect([cambiumLength(30, 1), cambiumLength(30, 2), cambiumLength(0, 2), cambiumLength(Number.NaN, 1)]).toEqual([
    30,
    60,
    null,
    null,
  ]);
});

test('what can’t be has no figure', () => {
  const odd = [
    [9, 9],
    [9, 12],
    [9, -1],
    [0, 0],
    [-4, 1],
    [Number.NaN, 1],
    [9, Number.NaN],
    [Number.POSITIVE_INFINITY, 1],
  ] as const;
  for (const [diameter, depth] of odd)
    expect([faceWidth(diameter, depth), shareCutThrough(diameter, depth), strengthLeft(diameter, depth)]).toEqual([
      null,
      null,
      null,
    ]);
  // a scion wider than the branch meets both its edges nowhere
  expect([depthForWidth(4, 9), depthForWidth(4, 0), depthForWidth(Number.NaN, 2), depthForWidth(0, 0)]).toEqual([
    null,
    null,
    null,
    null,
  ]);
  expect(depthForWidth(9, 9)).toBe(4.5);
});

describe('any branch, any cut', () => {
  const diameter = fc.double({ min: 0.5, max: 200, noNaN: true });
  const share = fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true });

  test('shares lie in 0 to 1, the face is no wider than the branch, and the size of it doesn’t matter', () => {
    fc.assert(
      fc.property(diameter, share, (wide, deep) => {
        const depth = wide * deep;
        fc.pre(depth < wide);
        const [face, through, left] = [
          faceWidth(wide, depth),
          shareCutThrough(wide, depth),
          strengthLeft(wide, depth),
        ].map((figure) => figure ?? Number.NaN) as [number, number, number];
        expect(face).toBeGreaterThanOrEqual(0);
        expect(face).toBeLessThanOrEqual(wide * (1 + 1e-12));
        for (const figure of [through, left]) {
          expect(figure).toBeGreaterThanOrEqual(0);
          expect(figure).toBeLessThanOrEqual(1 + 1e-9);
        }
        expect(through).toBeCloseTo(shareCutThrough(1, depth / wide) ?? Number.NaN, 9);
        expect(left).toBeCloseTo(strengthLeft(1, depth / wide) ?? Number.NaN, 9);
      }),
    );
  });

  test('a deeper cut goes through more and leaves less', () => {
    fc.assert(
      fc.property(share, share, (a, b) => {
        const [shallow, deep] = [Math.min(a, b), Math.max(a, b)];
        const of = (figure: typeof strengthLeft, depth: number) => figure(1, depth) ?? Number.NaN;
        expect(of(shareCutThrough, deep)).toBeGreaterThanOrEqual(of(shareCutThrough, shallow) - 1e-12);
        expect(of(strengthLeft, deep)).toBeLessThanOrEqual(of(strengthLeft, shallow) + 1e-9);
      }),
    );
  });

  test('cut to the depth that a scion asks for, the face is as wide as the scion', () => {
    fc.assert(
      fc.property(diameter, fc.double({ min: 0.01, max: 1, noNaN: true }), (wide, part) => {
        const depth = depthForWidth(wide, wide * part) ?? Number.NaN;
        expect(depth).toBeLessThanOrEqual((wide / 2) * (1 + 1e-12));
        expect(faceWidth(wide, depth) ?? Number.NaN).toBeCloseTo(wide * part, 7);
      }),
    );
  });
});
