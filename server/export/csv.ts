import Papa from 'papaparse';
import { inert } from '#server/report/text-page.ts';
import type { Cell, Table } from './table.ts';

/** What a spreadsheet would work out instead of showing it, also behind blanks and in full-width signs. */
const formula = /^\s*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20]|^[\t\r\n]/;
/** So many rows to a piece: a log of years is never one text. */
const piece = 1000;

/**
 * A table as CSV (RFC 4180, UTF-8), piece by piece.
 *
 * @param spreadsheet texts that begin as a formula get an apostrophe before them, signs that can't be seen become
 *   U+FFFD, and a mark at the start says that it is UTF-8; numbers stay numbers
 */
export function* csvText(table: Table, spreadsheet: boolean): Generator<string> {
  yield `${spreadsheet ? '\uFEFF' : ''}${table.columns.map(({ name }) => name).join(',')}\r\n`;
  let rows: Cell[][] = [];
  for (const row of table.rows()) {
    rows.push(spreadsheet ? row.map((cell) => (typeof cell === 'string' ? inert(cell) : cell)) : [...row]);
    if (rows.length < piece) continue;
    yield written(rows, spreadsheet);
    rows = [];
  }
  if (rows.length > 0) yield written(rows, spreadsheet);
}

const written = (rows: Cell[][], spreadsheet: boolean) =>
  `${Papa.unparse(rows, { newline: '\r\n', escapeFormulae: spreadsheet ? formula : false })}\r\n`;
