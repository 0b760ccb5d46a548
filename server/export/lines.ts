import type { Log } from '#server/engine/log.ts';
import type { Entry } from '#server/engine/model.ts';
import type { Column } from './table.ts';

/** From 1. */
export const lineNumber = (log: Log, entry: Entry): number => (log.document(entry.file)?.lineOf(entry) ?? 0) + 1;

/** Where in the log it stands. */
export const lineColumns = <Row>(log: Log, of: (row: Row) => Entry, what: string): readonly Column<Row>[] => [
  { name: 'file', type: 'string', always: true, help: `The file of the line ${what}.`, of: (row) => of(row).file },
  { name: 'line', type: 'integer', always: true, help: 'Its line, from 1.', of: (row) => lineNumber(log, of(row)) },
];
