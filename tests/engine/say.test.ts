import { describe, expect, test } from 'vitest';
import type { BatchFigures } from '#server/engine/model.ts';
import { figuresText } from '#server/engine/say.ts';
import { wilson } from '#server/statistics/wilson.ts';

/** The lens over a batch of so many, with plain blanks. */
function lens(grafted: number, taken: number, failed: number): string {
  const judged = taken + failed;
  const interval = judged > 0 ? wilson(taken, judged) : undefined;
  const figures: BatchFigures = {
    grafted,
    taken,
    failed,
    open: grafted - judged,
    early: 0,
    late: 0,
    rate: judged > 0 ? taken / judged : null,
    low: interval?.low ?? null,
    high: interval?.high ?? null,
    worst: null,
    best: null,
    outer: null,
    causes: {},
  };
  return figuresText(figures).replaceAll('\u00A0', ' ');
}

describe('the lens over a batch', () => {
  test('counts with their words, and the rate with its interval', () => {
    expect(lens(14, 9, 3)).toBe('14 grafted · 9 taken · 3 lost · 2 to judge · take 75 % (47–91)');
    expect(lens(14, 9, 5)).toBe('14 grafted · 9 taken · 5 lost · take 64 % (39–84)');
    expect(lens(36, 0, 2)).toBe('36 grafted · 2 lost · 34 to judge · not judged yet');
    expect(lens(24, 0, 0)).toBe('24 grafted · not judged yet');
    expect(lens(0, 0, 0)).toBe('no grafts yet');
  });

  test('too long for its line it loses what can be told from the rest, and no count loses its word but the total', () => {
    expect(lens(104, 49, 6)).toBe('49 of 55 judged took: 89 % (78–95) · 49 to judge');
    expect(lens(1040, 800, 140)).toBe('1040 · 800 taken · 140 lost · 100 to judge · take 85 % (83–87)');
    expect(lens(1040, 100, 60)).toBe('1040 · 100 taken · 60 lost · 880 to judge · not judged yet');
    expect(lens(250_000, 20_000, 6000)).toBe('250,000 · 20,000 taken · 6000 lost · 224,000 to judge');
    expect(lens(999_999, 500_000, 55_000)).toBe('500,000 of 555,000 judged took: 90 % (90–90) · 444,999 to judge');
    expect(lens(999_999, 500_000, 0)).toBe('500,000 of 500,000 judged took: 100 % (100–100)');
  });

  test('never longer than 64 characters, whatever the counts', () => {
    const sizes = [1, 4, 5, 9, 10, 20, 55, 104, 999, 1040, 10_400, 250_000, 999_999];
    for (const grafted of sizes)
      for (const taken of [0, 0.1, 0.3, 0.5, 0.9, 1])
        for (const failed of [0, 0.1, 0.5, 1]) {
          const lost = Math.round((grafted - Math.round(grafted * taken)) * failed);
          expect(lens(grafted, Math.round(grafted * taken), lost).length).toBeLessThanOrEqual(64);
        }
  });
});
