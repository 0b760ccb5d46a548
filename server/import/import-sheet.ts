import { isoDay } from '#grammar/values/date.ts';
import { size } from '#grammar/values/intervals.ts';
import { type Batch, batchesOf } from './batches.ts';
import { type Column, headerLine, readTable, type Table } from './columns.ts';
import { type DateOrder, orderOf, readDateCell } from './dates.ts';
import { areDayNumbers, type DaySystem, daySystemOf, type NumberedCell, readDayNumber } from './day-numbers.ts';
import { factRow } from './facts.ts';
import { dashesOf } from './grafts.ts';
import { leftText } from './left.ts';
import type { Imported, ImportOptions, ImportResult, LeftRow, Made } from './model.ts';
import { namesOfSheet } from './names.ts';
import { notesOfSheet } from './notes.ts';
import { generaOf } from './plants.ts';
import { type Reader, readRow } from './read-row.ts';
import { readSheet } from './sheet.ts';
import { clashText, headComments, sheetNotes } from './told.ts';
import { isBlank } from './words.ts';
import { writeLog } from './write-log.ts';

/** A CSV text as a log, the rows that don't fit, and what a preview has to say; or the sentence that asks. Never fails. */
export function importSheet(csv: string, options: ImportOptions): ImportResult {
  const sheet = readSheet(csv);
  const table = readTable(sheet, options.map ?? new Map());
  if ('ask' in table) return table;
  const orders = ordersOf(table, options);
  if ('ask' in orders) return orders;
  const left: LeftRow[] = [];
  const leftRows = new Set<number>();
  const leave = (row: number, cells: readonly string[], why: string) => {
    left.push({ row, cells, why });
    leftRows.add(row);
  };
  const names = namesOfSheet(options.standing ?? []);
  const notes = notesOfSheet((row) => leftRows.has(row));
  const reader: Reader = { ...readerOf(table), orders: orders.orders, names, notes, today: options.day };
  const made: Made[] = [];
  for (const row of table.rows) {
    const read = readRow(row, reader);
    if ('why' in read) leave(row.row, row.cells, read.why);
    else made.push(read);
  }
  const { batches, left: unfit } = batchesOf(made, names);
  const clashes = names.clashes().filter(({ instead }) => batches.some(({ name }) => name === instead));
  if (clashes[0] && !options.rename) return { ask: clashText(clashes) };
  for (const { made: one, why } of unfit) leave(one.row.row, one.row.cells, why);
  left.sort((a, b) => a.row - b.row);
  const file = headerLine(options.file) || 'a sheet';
  const comments = headComments(table, batches, names.changed(), options.day);
  return {
    done: {
      log: writeLog({ file, comments, known: names.known() }, batches),
      left,
      leftText: leftText(sheet, table.head, left),
      columns: table.columns.map((column) => ({ header: column.header, as: takenFor(column, orders.decided) })),
      counts: countsOf(table.rows.length, left.length, batches),
      notes: [
        ...sheetNotes(batches, names, options.day),
        ...notes.sentences((header) => {
          const fact = table.columns.find((column) => column.header === header)?.fact;
          return fact === undefined || fact === 'unknown' || fact === 'none' || fact === 'empty'
            ? ''
            : factRow(fact).is;
        }),
      ],
    },
  };
}

/** How each column of dates is read; a sheet counts all its day numbers one way. */
function ordersOf(
  { columns, rows }: Table,
  { dates, numbers, day }: Pick<ImportOptions, 'dates' | 'numbers' | 'day'>,
): { orders: Map<number, DateOrder | DaySystem>; decided: Map<number, string> } | { ask: string } {
  const orders = new Map<number, DateOrder | DaySystem>();
  const decided = new Map<number, string>();
  const numbered: { index: number; cells: NumberedCell[] }[] = [];
  for (const { index, header, fact } of columns) {
    if (fact === 'unknown' || fact === 'none' || fact === 'empty') continue;
    if (!['day', 'event', 'outcome'].includes(factRow(fact).reading)) continue;
    const filled = rows.flatMap((row) => {
      const cell = row.torn ? '' : (row.cells[index] ?? '');
      return isBlank(cell) ? [] : [{ header, row: row.row, cell }];
    });
    // where rows are counted, takes and losses are counts, too
    const counts = factRow(fact).reading === 'outcome' && columns.some((column) => column.fact === 'count');
    if (!counts && areDayNumbers(filled.map(({ cell }) => cell))) {
      numbered.push({ index, cells: filled });
      continue;
    }
    if (dates !== undefined) {
      orders.set(index, dates);
      continue;
    }
    const found = orderOf({ header, cells: filled.filter(({ cell }) => readDateCell(cell)) });
    if ('ask' in found) return found;
    orders.set(index, found.order);
    if (found.decided) decided.set(index, `dates have ${found.decided}`);
  }
  const system =
    numbers === undefined
      ? daySystemOf(
          numbered.flatMap(({ cells }) => cells),
          day,
        )
      : { system: numbers, decided: '' };
  if ('ask' in system) return system;
  for (const { index, cells } of numbered) {
    orders.set(index, system.system);
    const first = cells[0]?.cell.trim() ?? '';
    const shown = system.decided || `${first} is ${isoDay(readDayNumber(first)?.days[system.system] ?? 0)}`;
    decided.set(index, `day numbers are counted from ${system.system}: ${shown}`);
  }
  return { orders, decided };
}

function readerOf({ columns, rows }: Table): Pick<Reader, 'columns' | 'genera' | 'graftColumn'> {
  const at = (fact: Column['fact']) => columns.find((column) => column.fact === fact)?.index;
  const cellsOf = (index: number | undefined) =>
    index === undefined ? [] : rows.map(({ cells }) => cells[index] ?? '');
  const [batch, graft] = [cellsOf(at('batch')), cellsOf(at('graft'))];
  return {
    columns,
    genera: generaOf((['plant', 'cultivar', 'understock', 'pair'] as const).flatMap((fact) => cellsOf(at(fact)))),
    graftColumn: {
      batches: at('batch') !== undefined,
      counts: at('count') !== undefined,
      dashes: dashesOf(graft.map((cell, i) => ({ batch: batch[i] ?? '', cell }))),
    },
  };
}

function takenFor({ index, header, fact, unit, note }: Column, decided: ReadonlyMap<number, string>): string {
  if (fact === 'empty') return 'nothing: the column is empty';
  if (fact === 'none') return 'left out';
  if (fact === 'unknown') return `remark, as “${header}: …”${note ? `, for ${note}` : ''}`;
  const { is, reading } = factRow(fact);
  const inUnit = unit && reading === 'figure' ? `, in ${unit} where the cell has no unit` : '';
  const dates = decided.get(index);
  return `${is}${inUnit}${dates ? `; ${dates}` : ''}`;
}

function countsOf(rows: number, left: number, batches: readonly Batch[]): Imported['counts'] {
  let [grafts, took, lost] = [0, 0, 0];
  for (const { rows: own } of batches)
    for (const { made, numbers } of own) {
      const all = numbers ? size(numbers) : (made.count ?? 1);
      grafts += all;
      const sum = (verb: string) =>
        made.events.filter((visit) => visit.verb === verb).reduce((total, { count }) => total + (count ?? all), 0);
      took += sum('take');
      lost += sum('fail');
    }
  return { rows, taken: rows - left, left, grafts, took, lost };
}
