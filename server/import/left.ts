import Papa from 'papaparse';
import type { LeftRow } from './model.ts';
import type { Sheet, SheetRow } from './sheet.ts';

/** Of the column of reasons; a sheet with it is a side file that comes back, mended. */
export const whyHeader = 'why left';

/** The side file: the sheet's headers and the rows left, cell by cell as they were read, the reason in a last column. */
export function leftText({ delimiter, lineEnd }: Sheet, head: SheetRow, left: readonly LeftRow[]): string {
  if (left.length === 0) return '';
  const wide = left.reduce((most, { cells }) => Math.max(most, cells.length), head.cells.length);
  const filled = (cells: readonly string[], last: string) => [
    ...cells,
    ...Array.from({ length: wide - cells.length }, () => ''),
    last,
  ];
  const rows = [filled(head.cells, whyHeader), ...left.map(({ cells, why }) => filled(cells, plainMarks(why)))];
  return Papa.unparse(rows, { delimiter, newline: lineEnd }) + lineEnd;
}

/** Marks a spreadsheet shows whatever encoding it takes the file for. */
const plainMarks = (text: string) => text.replace(/[’‘“”]/g, "'");
