import type { Day } from '#grammar/statement.ts';
import type { Column } from './columns.ts';
import { type DateOrder, readDateCell } from './dates.ts';
import { type DaySystem, isDaySystem, readDayNumber } from './day-numbers.ts';
import type { FactName } from './facts.ts';
import type { Notes } from './notes.ts';
import { oneLine } from './one-line.ts';
import type { SheetRow } from './sheet.ts';
import { isBlank } from './words.ts';

/** How each column of dates is read, by its index. */
export type ColumnOrders = ReadonlyMap<number, DateOrder | DaySystem>;

/** A row's cells by fact, and what of them goes to the remark. */
export interface Cells {
  readonly row: number;
  /** Without blanks around it; '' where it is blank or says so. */
  of(fact: FactName): string;
  column(fact: FactName): Column | undefined;
  order(fact: FactName): DateOrder | DaySystem;
  /** Its cell is a date, or a number for a day where the column is one of such. */
  isDated(fact: FactName): boolean;
  /** The cell could not be read as its fact: its text stays, in the remark. */
  keep(fact: FactName): void;
  say(text: string): void;
  remarks(): readonly string[];
}

export function cellsOf(
  row: SheetRow,
  { columns, orders, notes }: { columns: readonly Column[]; orders: ColumnOrders; notes: Notes },
): Cells {
  const byFact = new Map(columns.map((column) => [column.fact, column] as const));
  const textOf = (column: Column | undefined) => (column ? (row.cells[column.index] ?? '').trim() : '');
  const said: { index: number; text: string }[] = [];
  const sayColumn = (column: Column) =>
    said.push({ index: column.index, text: `${column.header}: ${oneLine(textOf(column))}` });
  for (const column of columns) {
    const text = textOf(column);
    if (text === '') continue;
    if (isBlank(text) && column.fact !== 'none') notes.add('blank', column.header, text, row.row);
    else if (column.fact === 'remark') said.push({ index: column.index, text: oneLine(text) });
    else if (column.fact === 'unknown') sayColumn(column);
    else if (column.fact === 'none') notes.add('left-out', column.header, text, row.row);
  }
  const of = (fact: FactName) => {
    const text = textOf(byFact.get(fact));
    return isBlank(text) ? '' : text;
  };
  const order = (fact: FactName) => orders.get(byFact.get(fact)?.index ?? -1) ?? 'iso';
  return {
    row: row.row,
    of,
    column: (fact) => byFact.get(fact),
    order,
    isDated: (fact) => (isDaySystem(order(fact)) ? readDayNumber : readDateCell)(of(fact)) !== undefined,
    keep: (fact) => {
      const column = byFact.get(fact);
      if (!column) return;
      sayColumn(column);
      notes.add('remark', column.header, textOf(column), row.row);
    },
    say: (text) => said.push({ index: -1, text }),
    remarks: () => said.sort((a, b) => a.index - b.index).map(({ text }) => text),
  };
}

/** The day of a column: nothing where it is blank, a reason where it can't be read. */
export function dayOf(cells: Cells, fact: FactName): Day | { readonly why: string } | undefined {
  const cell = cells.of(fact);
  if (cell === '') return undefined;
  const shown = `“${cell.slice(0, 40)}”`;
  const order = cells.order(fact);
  if (isDaySystem(order)) {
    const read = readDayNumber(cell);
    if (!read) return { why: `${shown} is no number for a day` };
    sayTime(cells, fact, read.time);
    return read.days[order];
  }
  if (/^\d{5}(?:\.\d+)?$/.test(cell))
    return {
      why: `${shown} is a spreadsheet’s own number for a day: show the column as dates and save the sheet again`,
    };
  const read = readDateCell(cell);
  if (!read) return { why: `${shown} is no date` };
  const day = read.days[order];
  if (day === undefined) {
    const other = Object.keys(read.days).length > 0;
    const first = { iso: 'year', us: 'month', eu: 'day' }[order];
    return { why: other ? `${shown} is no day with the ${first} first` : `${shown} is no day of any year` };
  }
  sayTime(cells, fact, read.time);
  return day;
}

function sayTime(cells: Cells, fact: FactName, time: string | undefined): void {
  if (time !== undefined) cells.say(fact === 'date' ? `at ${time}` : `${cells.column(fact)?.header} at ${time}`);
}
