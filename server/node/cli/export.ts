import { existsSync, mkdirSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { csvText } from '#server/export/csv.ts';
import { dataPackage } from '#server/export/data-package.ts';
import { allTables } from '#server/export/tables.ts';
import { inert } from '#server/report/text-page.ts';
import { moment } from '../today.ts';
import { openLog } from './open-log.ts';
import { type Asked, UsageError } from './options.ts';
import { saveNew } from './save.ts';
import { whyNot } from './why-not.ts';

/** The log as tables, CSV with a Tabular Data Package, in a folder. Nothing that stands there is written over. */
export async function exportCommand(asked: Asked): Promise<number> {
  const { out } = asked.values;
  if (typeof out !== 'string' || out === '' || out === '-')
    throw new UsageError('--out names the folder the tables go to: --out tables.');
  const spreadsheet = asked.values.spreadsheet === true;
  const { answers } = await openLog(asked, ['text']);
  const tables = allTables(answers);
  const files: readonly (readonly [string, () => Iterable<string>])[] = [
    ...tables.map((table) => [`${table.name}.csv`, () => csvText(table, spreadsheet)] as const),
    ['datapackage.json', () => [dataPackage(answers, tables, spreadsheet, moment())]],
  ];
  const folder = resolve(out);
  const there = files.map(([name]) => name).filter((name) => existsSync(join(folder, name)));
  if (there.length > 0)
    throw new UsageError(`${inert(out)} holds ${there[0]} already, and nothing is written over: name a new folder.`);
  writeAll(folder, files, inert(out));
  process.stderr.write(`Written: ${inert(out)}, ${tables.length} tables and datapackage.json.\n`);
  return 0;
}

/** All files, or none. */
function writeAll(folder: string, files: readonly (readonly [string, () => Iterable<string>])[], shown: string): void {
  const made: string[] = [];
  try {
    mkdirSync(folder, { recursive: true });
    for (const [name, pieces] of files) {
      const path = join(folder, name);
      saveNew(path, pieces());
      made.push(path);
    }
  } catch (error) {
    for (const path of made) rmSync(path, { force: true });
    if ((error as NodeJS.ErrnoException).code === undefined) throw error;
    throw new UsageError(`${shown} can’t be written (${whyNot(error)}); nothing is left behind.`);
  }
}
