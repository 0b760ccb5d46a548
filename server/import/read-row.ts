import { longestLine, readLine } from '#grammar/line.ts';
import type { Day, Intervals } from '#grammar/statement.ts';
import { size } from '#grammar/values/intervals.ts';
import type { Key } from '#grammar/vocabulary.ts';
import { factText, handsChanged, lengthText, quoted, saysYes, scionText } from './cells.ts';
import type { Column } from './columns.ts';
import { type FactName, factRow } from './facts.ts';
import { type GraftColumn, readGraftCell } from './grafts.ts';
import type { Made, MadeFact, Visit } from './model.ts';
import type { Names } from './names.ts';
import type { Notes } from './notes.ts';
import { outcomeOf } from './outcome.ts';
import { remarksOf } from './remarks.ts';
import { type Cells, type ColumnOrders, cellsOf, dayOf } from './row-cells.ts';
import type { SheetRow } from './sheet.ts';
import { taxaOf } from './taxa.ts';
import { readCount } from './words.ts';

/** What all rows of a sheet are read with. */
export interface Reader {
  readonly columns: readonly Column[];
  /** Of each column that holds dates. */
  readonly orders: ColumnOrders;
  readonly genera: ReadonlySet<string>;
  readonly graftColumn: GraftColumn;
  readonly names: Names;
  readonly notes: Notes;
  /** For takes and losses without a day. */
  readonly today: Day;
}

/** The facts a graft's line has, in the order they stand on it. */
const lineFacts = [
  ...([
    'method',
    'cut',
    'stock',
    'scion',
    'long',
    'short',
    'out',
    'whorls',
    'film',
    'bag',
    'tie',
    'wax',
    'wood',
  ] as const),
  ...(['match', 'side', 'branch', 'label', 'unpruned', 'bleeding', 'reset', 'from', 'onto', 'in', 'by'] as const),
];
const events = ['swell', 'free', 'untie', 'sever', 'sell'] as const;

/** One row of the sheet as grafts made and what became of them; or why it can't be. */
export function readRow(row: SheetRow, reader: Reader): Made | { readonly why: string } {
  if (row.torn) return { why: 'its quotation marks don’t match, so its cells can’t be told apart' };
  const strange = row.cells.map((cell) => control.exec(cell)?.[0]).find((mark) => mark !== undefined);
  if (strange !== undefined)
    return {
      why: `it has a character no text has (U+${strange.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')})`,
    };
  const cells = cellsOf(row, reader);
  const when = dayOf(cells, 'date');
  if (when === undefined) return { why: 'the day it was made is blank' };
  if (typeof when !== 'number') return when;
  const grafts = graftsOf(cells, reader);
  if ('why' in grafts) return grafts;
  const made = grafts.numbers ? size(grafts.numbers) : (grafts.count ?? 1);
  const visits = visitsOf(cells, reader, made, when);
  if ('why' in visits) return visits;
  const taxa = taxaOf(cells, reader.genera);
  const facts = factsOf(cells, reader);
  const remarks = cells.remarks();
  // a remark that would be read as something else there goes below the line
  if (!readsBack(taxa, facts, remarksOf(remarks).onLine) && !readsBack(taxa, facts, ''))
    return { why: 'its facts can’t be written as one line of a log' };
  return { row, day: when, ...grafts, ...(taxa === undefined ? {} : { taxa }), facts, remarks, events: visits };
}

/** Control characters and half characters: nothing a log or a terminal should be given. */
const control =
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/;

/** Which grafts: their numbers, or how many, and of which batch. */
function graftsOf(
  cells: Cells,
  { graftColumn }: Reader,
): { batch?: string; numbers?: Intervals; count?: number } | { why: string } {
  const said = cells.of('batch');
  const cell = cells.of('graft');
  const graft = cell === '' ? {} : readGraftCell(cell, said, graftColumn);
  if (!graft) return { why: `“${cell.slice(0, 40)}” is no graft’s number, such as 12, K26.12 or K26.1-40` };
  const batch = said || graft.batch;
  if (graftColumn.batches && !batch) return { why: 'its batch is blank' };
  // the tag’s own letters are not lost where the batch has another name
  if (said && graft.batch && graft.batch.toLowerCase() !== said.toLowerCase()) cells.keep('graft');
  const counted = cells.of('count');
  const count = counted === '' ? undefined : readCount(counted);
  if (counted !== '' && count === undefined) return { why: `“${counted.slice(0, 40)}” is no count` };
  if (count === 0) return { why: 'no graft was made: the count is 0' };
  if (count !== undefined && count > 999_999) return { why: `${count} is more than a log counts in one line, 999,999` };
  const { numbers } = graft;
  if (numbers && count !== undefined && size(numbers) !== count)
    return { why: `the count says ${count}, the numbers are ${size(numbers)}` };
  if (!numbers && count === undefined && graftColumn.counts) return { why: 'how many were made is blank' };
  return {
    ...(batch ? { batch } : {}),
    ...(numbers ? { numbers } : {}),
    ...(count !== undefined && !numbers ? { count } : {}),
  };
}

function visitsOf(cells: Cells, { notes, today }: Reader, made: number, day: Day): readonly Visit[] | { why: string } {
  const days: Partial<Record<FactName, Day>> = {};
  for (const fact of ['take-day', 'fail-day', 'judged', 'take', 'fail', ...events] as const) {
    if ((fact === 'take' || fact === 'fail') && !cells.isDated(fact)) continue;
    const read = dayOf(cells, fact);
    if (typeof read === 'number') days[fact] = read;
    // a column of days that says something else is no reason to leave the row
    else if (read) cells.keep(fact);
  }
  const dated = (fact: 'take' | 'fail') => days[fact] !== undefined || cells.isDated(fact);
  const takeDay = days['take-day'] ?? days.take;
  const failDay = days['fail-day'] ?? days.fail;
  const outcome = outcomeOf(
    {
      take: dated('take') ? '' : cells.of('take'),
      fail: dated('fail') ? '' : cells.of('fail'),
      cause: cells.of('cause'),
      share: cells.of('take-share'),
      ...(takeDay === undefined ? {} : { takeDay }),
      ...(failDay === undefined ? {} : { failDay }),
      ...(days.judged === undefined ? {} : { judged: days.judged }),
    },
    made,
    day,
    today,
  );
  if ('why' in outcome) return outcome;
  for (const fact of outcome.unread) cells.keep(fact === 'share' ? 'take-share' : fact);
  const visits: Visit[] = [...outcome.visits];
  for (const verb of events) {
    const at = days[verb];
    if (at === undefined) continue;
    if (at < day) return { why: `“${cells.column(verb)?.header}” is before the day it was made` };
    if (visits.some((end) => end.verb === 'fail' && end.count === undefined && end.day < at))
      return { why: `“${cells.column(verb)?.header}” is after the day it was lost` };
    visits.push({ verb, day: at });
  }
  for (const fact of outcome.open) notes.add('open', cells.column(fact)?.header ?? '', cells.of(fact), cells.row);
  return visits;
}

function factsOf(cells: Cells, { names, notes }: Reader): MadeFact[] {
  const facts: MadeFact[] = [];
  const add = (key: Key, text: string | undefined, from: FactName) => {
    if (text === undefined) cells.keep(from);
    else facts.push({ key, text });
  };
  for (const fact of lineFacts) {
    const cell = cells.of(fact);
    const column = cells.column(fact);
    if (fact === 'scion' && cell === '') scionOf(cells, facts);
    if (cell === '' || !column) continue;
    if (fact === 'in' && cells.of('onto') !== '') cells.keep('in');
    else if (fact === 'in') add('in', `in ${names.nameOf('place', cell)}`, fact);
    else if (fact === 'onto' || fact === 'from') {
      const trees =
        fact === 'from'
          ? cell
              .split(/[,;]/)
              .map((tree) => tree.trim())
              .filter(Boolean)
          : [cell];
      add(fact, `${fact} ${trees.map((tree) => names.nameOf('tree', tree)).join(',')}`, fact);
    } else if (factRow(fact).reading === 'flag') {
      const says = saysYes(cell);
      if (says === false) notes.add('no', column.header, cell, cells.row);
      else add(fact as Key, says ? fact : undefined, fact);
    } else {
      const text = factText(fact, cell, column.unit);
      if (fact === 'by' && text !== undefined && handsChanged(cell))
        notes.add('hyphen', column.header, cell, cells.row);
      add(fact as Key, text, fact);
    }
  }
  return facts;
}

/** Thickness and length from two columns. */
function scionOf(cells: Cells, facts: MadeFact[]): void {
  const [thick, long] = (['scion-thick', 'scion-length'] as const).map((fact) => ({
    fact,
    cell: cells.of(fact),
    text: lengthText(cells.of(fact), cells.column(fact)?.unit),
  }));
  if (!thick || !long) return;
  const both = thick.text === undefined ? undefined : scionText(thick.text, long.text);
  const text = both ?? (thick.cell === '' ? scionText(undefined, long.text) : undefined);
  if (text !== undefined) facts.push({ key: 'scion', text });
  else for (const { fact, cell } of [thick, long]) if (cell !== '') cells.keep(fact);
}

/** The line says the same when it is read again: nothing of it was eaten by its neighbour. */
function readsBack(taxa: string | undefined, facts: readonly MadeFact[], onLine: string): boolean {
  const parts = ['graft A.1', taxa ?? '', ...facts.map(({ text }) => text), onLine ? quoted(onLine) : ''];
  const line = parts.filter(Boolean).join('  ');
  const { statement, problems } = readLine(line);
  return (
    // room for the set and the batch's name
    line.length <= longestLine - 200 &&
    problems.length === 0 &&
    statement?.sets[0]?.count === undefined &&
    (statement?.taxa !== undefined) === (taxa !== undefined) &&
    statement?.facts.map(({ key }) => key).join() === facts.map(({ key }) => key).join() &&
    (statement.remark?.text ?? '') === onLine
  );
}
