import { closeSync, constants, fstatSync, lstatSync, openSync, readFileSync, rmSync } from 'node:fs';
import { basename, resolve } from 'node:path';
import type { Day } from '#grammar/statement.ts';
import { isoDay, parseIso } from '#grammar/values/date.ts';
import { Answers } from '#server/engine/answers.ts';
import type { Finding } from '#server/engine/model.ts';
import { dateOrders } from '#server/import/dates.ts';
import { daySystems } from '#server/import/day-numbers.ts';
import { importSheet } from '#server/import/import-sheet.ts';
import type { Imported, ImportOptions } from '#server/import/model.ts';
import { inert } from '#server/report/text-page.ts';
import { dayInZone } from '../today.ts';
import { type Beside, logsBeside } from './import-folder.ts';
import { jsonPreview, type OutPaths, textPreview } from './import-preview.ts';
import { type Asked, UsageError } from './options.ts';
import { asciiOf, pageFor } from './print.ts';
import { saveNew } from './save.ts';
import { readSheetBytes, type SheetText } from './sheet-bytes.ts';
import { whyNot } from './why-not.ts';

/** No sheet of grafts is larger, in bytes; a map is a few lines. */
const largest = { sheet: 20_000_000, map: 1_000_000 };

/** A spreadsheet becomes a log, after a preview. Without `--out` nothing is written; nothing is ever written over. */
export function importCommand(asked: Asked): number {
  const [given, more] = asked.paths;
  if (given === undefined || more !== undefined)
    throw new UsageError('import takes one spreadsheet, saved as CSV: graftlog import grafts.csv --out 2024.graft.');
  const format = asked.values.format ?? 'text';
  if (format !== 'text' && format !== 'json') throw new UsageError('--format is one of text, json.');
  const out = outPaths(asked.values.out);
  const sheet = readSheetBytes(readBytes(given, largest.sheet));
  const day = dayOf(asked.values.on);
  const ways = datesOf(asked.values.dates);
  const map = mapOf(asked.values.map);
  const file = given === '-' ? 'standard input' : basename(given);
  const beside = logsBeside(out?.log);
  for (const sentence of beside.remarks) process.stderr.write(`graftlog: ${inert(sentence)}\n`);
  const { standing } = beside;
  const rename = asked.values.rename === true;
  const result = importSheet(sheet.text, { file, day, map, standing, rename, ...ways });
  if ('ask' in result) throw new UsageError(inert(result.ask));
  const { done } = result;
  const findings = findingsOf(done, beside, day);
  const page = pageFor(asked.values.color, process.stdout, process.env);
  const preview =
    format === 'json'
      ? jsonPreview(done, findings)
      : textPreview(done, findings, {
          file,
          page,
          ...(sheet.encoding ? { encoding: sheet.encoding } : {}),
          ...(out ? { out } : {}),
        });
  process.stdout.write(format === 'json' || page.wide ? preview : asciiOf(preview));
  if (done.log === '') throw new UsageError(`No row of ${inert(file)} can be a line of a log; nothing is written.`);
  if (out) write(out, done, sheet);
  return done.left.length > 0 ? 1 : 0;
}

function readBytes(given: string, most: number): Buffer {
  if (given === '-') return readFileSync(0);
  let file: number;
  try {
    file = openSync(given, constants.O_RDONLY | constants.O_NONBLOCK);
  } catch (error) {
    throw new UsageError(`${inert(given)} can’t be read (${whyNot(error)}).`);
  }
  try {
    const stat = fstatSync(file);
    if (!stat.isFile()) throw new UsageError(`${inert(given)} is no file.`);
    if (stat.size > most) throw new UsageError(`${inert(given)} is larger than ${most / 1_000_000} MB.`);
    return readFileSync(file);
  } finally {
    closeSync(file);
  }
}

function outPaths(out: string | boolean | undefined): OutPaths | undefined {
  if (out === undefined) return undefined;
  if (typeof out !== 'string' || !/[^/\\]\.graft$/.test(out))
    throw new UsageError('--out names the new log, a file that ends in .graft: --out 2024.graft.');
  const paths = { log: out, left: `${out}.left.csv` };
  for (const path of Object.values(paths))
    if (exists(path)) throw new UsageError(`${inert(path)} is there already, and nothing is written over.`);
  return paths;
}

function exists(path: string): boolean {
  return lstatSync(path, { throwIfNoEntry: false }) !== undefined;
}

function dayOf(on: string | boolean | undefined): Day {
  const today = dayInZone(undefined);
  const day = typeof on === 'string' ? parseIso(on) : today;
  if (day === undefined) throw new UsageError(`--on takes a day as year-month-day, such as ${isoDay(today)}.`);
  return day;
}

/** `us`, `1904`, or one of each: `us,1904`. */
function datesOf(dates: string | boolean | undefined): Pick<ImportOptions, 'dates' | 'numbers'> {
  const words = typeof dates === 'string' ? dates.split(',') : [];
  const order = dateOrders.find((one) => words.includes(one));
  const system = daySystems.find((one) => words.includes(one));
  if (words.length !== (order ? 1 : 0) + (system ? 1 : 0))
    throw new UsageError(
      '--dates is iso (year first), us (month first) or eu (day first); for day numbers 1900 or 1904, behind a comma if both are asked.',
    );
  return { ...(order ? { dates: order } : {}), ...(system ? { numbers: system } : {}) };
}

function mapOf(given: string | boolean | undefined): ReadonlyMap<string, string> {
  if (typeof given !== 'string') return new Map();
  let read: unknown;
  try {
    read = JSON.parse(readSheetBytes(readBytes(given, largest.map)).text.replace(/^\uFEFF/, ''));
  } catch (error) {
    if (error instanceof UsageError) throw error;
  }
  const pairs = typeof read === 'object' && read !== null && !Array.isArray(read) ? Object.entries(read) : undefined;
  if (!pairs?.every((pair): pair is [string, string] => typeof pair[1] === 'string'))
    throw new UsageError(`${inert(given)} is no map: it is JSON such as {"Grafted": "date", "Shelf": "none"}.`);
  return new Map(pairs);
}

/** What the engine says of the new log's lines, among those beside it, on the day. */
function findingsOf({ log: text }: Imported, { log }: Beside, day: Day): readonly Finding[] {
  // no file that stands there has this name: one in a folder above would begin with `..`
  const file = '../the import/';
  log.addFile(file, text);
  return new Answers(log, day).findings().filter(({ entry }) => entry.file === file);
}

/** Both files are new or neither is there: what lies there is left alone, even if it came while the sheet was read. */
function write(out: OutPaths, { log, leftText }: Imported, { encode }: SheetText): void {
  const made: string[] = [];
  const put = (path: string, bytes: Uint8Array) => {
    saveNew(resolve(path), [bytes]);
    made.push(path);
  };
  let now = out.left;
  try {
    if (leftText !== '') put(out.left, encode(leftText));
    now = out.log;
    put(out.log, Buffer.from(log, 'utf8'));
  } catch (error) {
    for (const path of made) rmSync(path, { force: true });
    throw new UsageError(`${inert(now)} can’t be written (${whyNot(error)}); nothing is left behind.`);
  }
  process.stderr.write(`Written: ${inert(made.reverse().join(' and '))}.\n`);
}
