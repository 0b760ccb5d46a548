import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv, type AnySchema } from 'ajv';
import addFormats from 'ajv-formats';
import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import { Answers } from '#server/engine/answers.ts';
import { csvText } from '#server/export/csv.ts';
import { dataPackage } from '#server/export/data-package.ts';
import { type Cell, tableOf } from '#server/export/table.ts';
import { allTables } from '#server/export/tables.ts';
import { dayOf, logOf } from '../support/log.ts';

const log = `site   Drumlin-Lane  lat 47.90  lon 8.10
place  frame  frost-free shade wind-break
weather "station.csv"
2026-10-05
collect L7  Pinus parviflora  x60  ripened  in frame
batch  K26  Pinus parviflora 'Tenysu' / Pinus thunbergii  side-veneer  film 38mm  lot L7  in frame
batch  M26  Pinus mugo / Pinus sylvestris  side-veneer  film 38mm  in frame
2026-10-09
graft  K26.1..11  cut 40%  scion 4mm x 90mm  whorls 2  by mk
graft  K26.12     cut 22%  whorls 2  by mk
graft  M26 x40  cut 40%  whorls 2
reading frame  min -1.5C
2027-03-20
swell  K26
2027-03-24
open   K26  10%  "tips green, \\"new\\""
2027-03-30
fail   K26.5  dried
fail   M26 x4  rotted
`;
const station = 'DATE,TMIN,TMAX\n2026-10-09,-15,104\n2026-10-10,21,\n';
const answersOf = (text = log, on = '2027-04-06') =>
  new Answers(logOf(text, on).log, dayOf(on), () => ({ text: station }));

interface Descriptor {
  readonly resources: readonly {
    readonly name: string;
    readonly path: string;
    readonly schema: {
      readonly fields: readonly {
        readonly name: string;
        readonly type: string;
        readonly unit?: string;
        readonly constraints?: { readonly required?: true; readonly enum?: readonly string[] };
      }[];
      readonly primaryKey?: readonly string[];
      readonly foreignKeys?: readonly {
        readonly fields: readonly string[];
        readonly reference: { readonly resource: string };
      }[];
    };
  }[];
}
const made = Date.UTC(2027, 3, 6);
const descriptorOf = (answers: Answers, spreadsheet = false): Descriptor =>
  JSON.parse(dataPackage(answers, allTables(answers), spreadsheet, made));
const csvOf = (answers: Answers, name: string, spreadsheet = false) => {
  const table = allTables(answers).find((one) => one.name === name);
  if (!table) throw new Error(`no table ${name}`);
  return [...csvText(table, spreadsheet)].join('');
};
/** Rows as another library reads them. */
function rowsOf(answers: Answers, name: string, spreadsheet = false): Record<string, string>[] {
  const { data, errors } = Papa.parse<Record<string, string>>(csvOf(answers, name, spreadsheet), {
    header: true,
    skipEmptyLines: true,
  });
  expect(errors, name).toEqual([]);
  return data;
}
const published = (name: string) =>
  JSON.parse(readFileSync(join(import.meta.dirname, '../reference', name), 'utf8')) as Record<string, unknown>;

describe('the descriptor', () => {
  test.each(['data-package-2.json', 'tabular-data-package-1.json'])('is valid by the published profile %s', (name) => {
    const { $schema: _, ...profile } = published(name);
    const ajv = new Ajv({ strict: false, allErrors: true });
    addFormats.default(ajv);
    // how a form shows it
    ajv.addFormat('textarea', true);
    const valid = ajv.compile(profile as AnySchema);
    for (const spreadsheet of [false, true]) {
      const descriptor = descriptorOf(answersOf(), spreadsheet);
      expect(valid(descriptor) || valid.errors).toBe(true);
    }
    // the profile sees a slip
    expect(valid({ ...descriptorOf(answersOf()), resources: [{ name: 'grafts', schema: { fields: 'none' } }] })).toBe(
      false,
    );
  });

  test('names each table’s file, its columns as they stand in it, and how it was made', () => {
    const answers = answersOf();
    const { resources, ...about } = descriptorOf(answers);
    expect(about).toMatchObject({ title: 'Graft log of Drumlin-Lane', created: '2027-04-06T00:00:00.000Z' });
    expect(resources.map(({ path }) => path)).toEqual(
      ['grafts', 'visits', 'findings', 'work', 'figures', 'causes', 'weather'].map((name) => `${name}.csv`),
    );
    for (const { name, schema } of resources)
      expect(csvOf(answers, name).split('\r\n')[0]).toBe(schema.fields.map((field) => field.name).join(','));
  });

  test('every number has a unit of UCUM, or counts lines, columns and rows', () => {
    const units = new Set<string | undefined>();
    for (const { schema } of descriptorOf(answersOf()).resources)
      for (const { name, type, unit } of schema.fields) {
        if (unit === undefined && /^(line|column|endColumn|cohort)$/.test(name)) continue;
        if (type === 'number' || type === 'integer') units.add(unit);
        else expect(unit).toBe(undefined);
      }
    // https://ucum.org: the unity, millimetre, degree Celsius, day, minute
    expect([...units].sort()).toEqual(['1', 'Cel', 'd', 'min', 'mm']);
  });
});

/** A cell by its field, as JSON Schema. */
function cellSchema(type: string, words?: readonly string[]): AnySchema {
  if (words) return { enum: words };
  if (type === 'integer') return { type: 'string', pattern: '^-?\\d+$' };
  if (type === 'number') return { type: 'string', pattern: '^-?\\d+(\\.\\d+)?(e-?\\d+)?$' };
  if (type === 'date') return { type: 'string', format: 'date' };
  if (type === 'boolean') return { enum: ['true', 'false'] };
  return { type: 'string' };
}

test('every cell of every table is what its field says; keys are keys', () => {
  const answers = answersOf();
  const ajv = new Ajv({ strict: false });
  addFormats.default(ajv);
  for (const { name, schema } of descriptorOf(answers).resources) {
    const rows = rowsOf(answers, name);
    expect(rows.length, name).toBeGreaterThan(0);
    for (const { name: column, type, constraints } of schema.fields) {
      const valid = ajv.compile(cellSchema(type, constraints?.enum));
      const cells = rows.map((row) => row[column] ?? '');
      if (constraints?.required)
        expect(
          cells.every((cell) => cell !== ''),
          `${name}.${column}`,
        ).toBe(true);
      expect(
        cells.filter((cell) => cell !== '' && !valid(cell)),
        `${name}.${column}`,
      ).toEqual([]);
    }
    const key = schema.primaryKey;
    if (key) expect(new Set(rows.map((row) => key.map((part) => row[part]).join('\n'))).size, name).toBe(rows.length);
    for (const { fields, reference } of schema.foreignKeys ?? []) {
      const [field = ''] = fields;
      const there = new Set(rowsOf(answers, reference.resource).map((row) => row[field]));
      expect(
        rows.filter((row) => !there.has(row[field])),
        name,
      ).toEqual([]);
    }
  }
});

test('the grafts by cohort, and what each went through', () => {
  const answers = answersOf();
  expect(
    rowsOf(answers, 'grafts').map(({ grafts, count, living, lost, cause, pooled }) => [
      grafts,
      count,
      living,
      lost,
      cause,
      pooled,
    ]),
  ).toEqual([
    ['K26.1..4,6..11', '10', '10', '', '', 'false'],
    ['K26.5', '1', '0', '2027-03-30', 'dried', 'false'],
    ['K26.12', '1', '1', '', '', 'false'],
    ['M26', '40', '36', '', '', 'true'],
  ]);
  expect(rowsOf(answers, 'grafts')[0]).toMatchObject({
    ...{ scion: "Pinus parviflora 'Tenysu'", understock: 'Pinus thunbergii', method: 'side-veneer', hand: 'mk' },
    ...{ depth: '0.4', scionSize: '4', whorls: '2', stored: '4', lot: 'L7', place: 'frame', open: '0.1', line: '9' },
  });
  expect(
    rowsOf(answers, 'visits')
      .filter(({ grafts }) => grafts === 'K26.5')
      .map(({ date, verb, share, cause, remark }) => [date, verb, share, cause, remark]),
  ).toEqual([
    ['2026-10-09', 'graft', '', '', ''],
    ['2027-03-20', 'swell', '', '', ''],
    ['2027-03-24', 'open', '0.1', '', expect.stringContaining('tips green')],
    ['2027-03-30', 'fail', '', 'dried', ''],
  ]);
});

test('weather as it was read, in degrees Celsius: stations and readings', () => {
  expect(
    rowsOf(answersOf(), 'weather').map(({ source, place, date, min, max }) => [source, place, date, min, max]),
  ).toEqual([
    ['station', '', '2026-10-09', '-1.5', '10.4'],
    ['station', '', '2026-10-10', '2.1', ''],
    ['reading', 'frame', '2026-10-09', '-1.5', ''],
  ]);
});

describe('cells that are up to something', () => {
  const cells = [
    '=cmd|x',
    '+1',
    '-1+1',
    '@SUM(A1)',
    '\t=1',
    '\r=1',
    ' =1',
    '\uFF1D1',
    'a\nb',
    '"=1"',
    'plain',
    '<script>',
    'x\u202eb',
  ];
  const table = tableOf<Cell>(
    { name: 'odd', title: 'Odd', help: '' },
    [{ name: 'cell', type: 'string', help: '', of: (cell) => cell }],
    () => [...cells, -1.5],
  );
  const read = (spreadsheet: boolean) =>
    Papa.parse<string[]>([...csvText(table, spreadsheet)].join(''), { skipEmptyLines: true })
      .data.slice(1)
      .flat();

  test('are handed on as they are in the plain flavour, each in one cell', () => {
    expect(read(false)).toEqual([...cells, '-1.5']);
  });

  test('are no formulas in the spreadsheet flavour; numbers stay numbers', () => {
    const safe = read(true);
    expect(safe).toHaveLength(cells.length + 1);
    expect(safe.filter((cell) => /^\s*[=+\-@\uFF1D]/.test(cell))).toEqual(['-1.5']);
    expect(safe.slice(0, 4)).toEqual(["'=cmd|x", "'+1", "'-1+1", "'@SUM(A1)"]);
    expect(safe).toEqual(expect.arrayContaining(['plain', '<script>', 'x\uFFFDb']));
    expect([...csvText(table, true)].join('').startsWith('\uFEFFcell\r\n')).toBe(true);
  });

  test('from a log: a remark, a name of 300 letters, one from right to left', () => {
    const hostile = log
      .replace('tips green', '=HYPERLINK(1)')
      .replaceAll('frame', `f${'x'.repeat(299)}`)
      .replaceAll('K26', 'שלום');
    const answers = answersOf(hostile);
    expect(rowsOf(answers, 'visits').some(({ remark }) => remark?.startsWith('=HYPERLINK(1)'))).toBe(true);
    const safe = rowsOf(answers, 'visits', true);
    expect(safe.some(({ remark }) => remark?.startsWith("'=HYPERLINK(1)"))).toBe(true);
    expect(rowsOf(answers, 'grafts')[0]).toMatchObject({ batch: 'שלום', place: `f${'x'.repeat(299)}` });
  });
});
