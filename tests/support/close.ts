import { expect } from 'vitest';

/** Numbers of a cell: joined by `;`, empty for none. */
export const list = (cell: string | undefined): number[] => (cell ? cell.split(';').map(Number) : []);

/** A cell of a table as a figure: empty or without a finite value, there is none. */
export const figure = (cell: string | undefined): number | null =>
  cell === undefined || cell === '' || cell === 'inf' ? null : Number(cell);

/** Counts of clusters from two cells, `taken` and `judged`. */
export const counts = (taken: string | undefined, judged: string | undefined): { taken: number; judged: number }[] =>
  list(judged).map((n, i) => ({ taken: list(taken)[i] ?? 0, judged: n }));

/** Equal to 1e-8 where the table holds ten digits, or both none. */
export function expectClose(found: number | null | undefined, cell: string | undefined, within = 1e-8): void {
  const wanted = figure(cell);
  if (wanted === null) expect(found).toBeNull();
  else {
    expect(found).toBeTypeOf('number');
    expect(Math.abs((found ?? Number.NaN) - wanted)).toBeLessThanOrEqual(within * Math.max(1, Math.abs(wanted)));
  }
}

/** No NaN and nothing infinite anywhere inside. */
export function expectFigures(value: unknown): void {
  if (typeof value === 'number') expect(Number.isFinite(value), `${value}`).toBe(true);
  else if (value && typeof value === 'object') for (const inner of Object.values(value)) expectFigures(inner);
}
