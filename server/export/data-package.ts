import { isoDay } from '#grammar/values/date.ts';
import type { Answers } from '#server/engine/answers.ts';
import type { Table } from './table.ts';

/**
 * The descriptor of a folder of tables: a Tabular Data Package, as version 1 and version 2 of the standard have it.
 * Units are UCUM codes in `unit`.
 *
 * @param made milliseconds
 */
export function dataPackage(answers: Answers, tables: readonly Table[], spreadsheet: boolean, made: number): string {
  const site = answers.log.site?.line.statement?.sets[0]?.name.text;
  const day = isoDay(answers.day);
  const flavour = spreadsheet
    ? ' For a spreadsheet: a text that would be read as a formula has an apostrophe before it.'
    : '';
  const descriptor = {
    $schema: 'https://datapackage.org/profiles/2.0/datapackage.json',
    profile: 'tabular-data-package',
    name: 'graft-log',
    title: site ? `Graft log of ${site}` : 'Graft log',
    description: `What a log of grafts says, as of ${day}. Units are UCUM codes; an empty cell is not known or does not apply.${flavour}`,
    created: new Date(made).toISOString(),
    resources: tables.map(resourceOf),
  };
  return `${JSON.stringify(descriptor, null, 2)}\n`;
}

function resourceOf({ name, title, help, columns, key, refers }: Table) {
  return {
    name,
    type: 'table',
    profile: 'tabular-data-resource',
    path: `${name}.csv`,
    title,
    description: help,
    format: 'csv',
    mediatype: 'text/csv',
    encoding: 'utf-8',
    dialect: { delimiter: ',', lineTerminator: '\r\n', quoteChar: '"', doubleQuote: true, header: true },
    schema: {
      fields: columns.map(fieldOf),
      missingValues: [''],
      ...(key ? { primaryKey: key } : {}),
      ...(refers
        ? {
            foreignKeys: [{ fields: [refers.column], reference: { resource: refers.table, fields: [refers.column] } }],
          }
        : {}),
    },
  };
}

function fieldOf({ name, type, help, unit, words, always }: Table['columns'][number]) {
  const constraints = { ...(always ? { required: true } : {}), ...(words ? { enum: words } : {}) };
  return {
    name,
    type,
    description: help,
    ...(unit ? { unit } : {}),
    ...(Object.keys(constraints).length > 0 ? { constraints } : {}),
  };
}
