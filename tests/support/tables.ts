import { readFileSync } from 'node:fs';
import { join } from 'node:path';

/** The rows of a table in `tests/reference`, by their header. */
export function referenceRows(name: string): Readonly<Record<string, string>>[] {
  const [header = '', ...rows] = readFileSync(join(import.meta.dirname, '../reference', name), 'utf8')
    .trim()
    .split('\n');
  const keys = header.split(',');
  return rows.map((row) => Object.fromEntries(row.split(',').map((cell, i) => [keys[i] ?? '', cell])));
}

/** A data file of vega-datasets, open data that tests read. */
export const vegaData = (name: string): string =>
  readFileSync(join(import.meta.dirname, '../../node_modules/vega-datasets/data', name), 'utf8');
