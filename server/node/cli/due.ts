import { isoDay } from '#grammar/values/date.ts';
import type { WorkItem } from '#server/engine/model.ts';
import { toText, weekdayText, whenText, workTitle } from '#server/engine/say.ts';
import { shownState } from '#server/engine/work/shown-state.ts';
import { csvText } from '#server/export/csv.ts';
import { icalendar } from '#server/export/icalendar.ts';
import { lineNumber } from '#server/export/lines.ts';
import { workTable } from '#server/export/told-tables.ts';
import { columns, inert, short } from '#server/report/text-page.ts';
import { moment } from '../today.ts';
import { levelled, readHours, weeksJson, weeksText } from './due-weeks.ts';
import { sayLeftOut } from './left-out.ts';
import { openLog } from './open-log.ts';
import { type Asked, UsageError } from './options.ts';
import { asciiOf, type Page } from './print.ts';

/** The work list: overdue, due, soon, later. */
export async function due(asked: Asked): Promise<number> {
  const { answers, day, page, format, json, print } = await openLog(asked, ['text', 'json', 'ics', 'csv']);
  const work = answers.work();
  if (format === 'ics' || format === 'csv') {
    if (asked.values.hours !== undefined)
      throw new UsageError(`--hours lays out weeks; ${format === 'ics' ? 'a calendar' : 'CSV'} has the windows.`);
    // RFC 5545, 3.6: a calendar has at least one event
    if (format === 'ics' && work.length === 0)
      process.stderr.write('graftlog: Nothing waits, and nothing is to come: there is no calendar to write.\n');
    else if (format === 'ics') print(icalendar(answers, work, moment()));
    else for (const piece of csvText(workTable(answers), asked.values.spreadsheet === true)) print(piece);
    return 0;
  }
  const hours = asked.values.hours === undefined ? undefined : readHours(asked.values.hours);
  const weeks = hours === undefined ? undefined : levelled(work, day, hours);
  const lineOf = ({ entry }: WorkItem) => lineNumber(answers.log, entry);
  if (json) {
    const rows = work.map((item) => ({
      what: item.what,
      grafts: item.grafts,
      count: item.count,
      batch: item.batch.name,
      place: item.place,
      hand: item.hand,
      from: isoDay(item.from),
      by: isoDay(item.by),
      state: item.state,
      waits: item.waits,
      to: item.to,
      file: item.entry.file,
      line: lineOf(item),
      why: item.why,
    }));
    print(
      `${JSON.stringify({ on: isoDay(day), work: rows, ...(weeks ? { levelled: weeksJson(weeks) } : {}) }, null, 2)}\n`,
    );
    return 0;
  }
  const text =
    weeks && hours !== undefined
      ? weeksText(weeks, hours, day, page)
      : listText(work, day, page, whereIn(answers.log.fileNames, lineOf));
  print(page.wide ? text : asciiOf(text));
  sayLeftOut(answers);
  return 0;
}

const groups = [
  ['overdue', 'Overdue'],
  ['due', 'Due'],
  ['soon', 'Soon'],
  ['later', 'Later'],
] as const;

interface Where {
  readonly of: (item: WorkItem) => string;
  /** What that says, where it isn't plain. */
  readonly legend?: string;
}

/** `line 192`; in a log of several files `2025:192`, their names without folder and ending where that tells them apart. */
function whereIn(files: readonly string[], lineOf: (item: WorkItem) => number): Where {
  if (files.length < 2) return { of: (item) => `line ${lineOf(item)}` };
  const base = (file: string) => file.replace(/^.*\//, '').replace(/\.graft$/, '');
  const apart = new Set(files.map(base)).size === files.length;
  const name = (file: string) => inert(apart ? base(file) : file);
  return { of: (item) => `${name(item.entry.file)}:${lineOf(item)}`, legend: 'file and line' };
}

function listText(work: readonly WorkItem[], day: number, page: Page, where: Where): string {
  const { color } = page;
  const out: string[] = [color.bold(`Work as of ${weekdayText(day)} ${isoDay(day).slice(0, 4)}`)];
  const rows = new Map(work.map((item) => [item, rowOf(item, day, where)] as const));
  const laid = columns([...rows.values()], new Set([2]));
  const lines = new Map([...rows.keys()].map((item, i) => [item, laid[i] ?? ''] as const));
  for (const [state, label] of groups) {
    const mine = work.filter((item) => shownState(item) === state);
    if (mine.length === 0) continue;
    const head = `${label} (${mine.length})`;
    out.push(
      '',
      state === 'overdue' ? color.red(color.bold(head)) : color.bold(head),
      ...mine.map((item) => `  ${lines.get(item)}`),
    );
  }
  if (work.length === 0) out.push('', 'Nothing waits, and nothing is to come.');
  else if (work.every((item) => item.state === 'soon' || item.state === 'later'))
    out.splice(1, 0, '', 'Nothing waits today.');
  if (work.length > 0) out.push('', ...legend(work, where));
  return `${out.join('\n')}\n`;
}

/** What the columns and the groups don't say by themselves. */
function legend(work: readonly WorkItem[], where: Where): string[] {
  const columns = `Behind the work: how many are living, where they stand${where.legend ? `, ${where.legend}` : ''}.`;
  const waiting = work.some((item) => item.state === 'overdue' && shownState(item) === 'due');
  return waiting
    ? [columns, 'Late under Due is what can wait; what harms the grafts when it waits is Overdue.']
    : [columns];
}

/** batch and work, when, how many, where, whose line: within 80 columns for names of ordinary length. */
function rowOf(item: WorkItem, day: number, where: Where): string[] {
  const what = item.to ? `${workTitle(item)} ${toText(item.to)}` : workTitle(item);
  return [
    short(inert(item.grafts), 18),
    `${what}, ${whenText(item, day)}`,
    String(item.count),
    short(inert(item.place ?? ''), 10),
    where.of(item),
  ];
}
