import type { Answers } from '#server/engine/answers.ts';
import { graftTables } from './graft-tables.ts';
import type { Table } from './table.ts';
import { toldTables } from './told-tables.ts';
import { weatherTable } from './weather-table.ts';

/** All that is handed on, in the order it is read in. */
export const allTables = (answers: Answers): Table[] => [
  ...graftTables(answers),
  ...toldTables(answers),
  weatherTable(answers),
];
