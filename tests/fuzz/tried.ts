import { expect } from 'vitest';
import { openDocument } from '#grammar/document.ts';
import { formatText } from '#grammar/format.ts';
import { readLine } from '#grammar/line.ts';
import { Answers } from '#server/engine/answers.ts';
import { planJson, planOf, usualConfidence } from '#server/engine/figures/plan.ts';
import { statsJson, statsOf } from '#server/engine/figures/stats.ts';
import { labelled } from '#server/engine/labelled.ts';
import { Log } from '#server/engine/log.ts';
import { reportJson, seasonReport } from '#server/engine/season-report.ts';
import { csvText } from '#server/export/csv.ts';
import { icalendar } from '#server/export/icalendar.ts';
import { allTables } from '#server/export/tables.ts';
import { importSheet } from '#server/import/import-sheet.ts';
import { benchSheet } from '#server/report/bench-sheet.ts';
import { labelSheets } from '#server/report/labels.ts';
import { seasonPage } from '#server/report/season-page.ts';
import { readStation } from '#server/weather/station.ts';
import { decode } from '#server/workspace/decode.ts';
import { said } from '../support/reading.ts';

/*
 * What is asked of every reader, whatever it is given. None may throw: that alone fails the test. The rest is what a
 * grower would lose: a line that changed its meaning, a figure that is none, a page that runs what a log says.
 */

/** One line: its parts lie in it, its layout is stable and says the same. */
export function tryLine(bytes: Buffer): void {
  for (const text of decode(bytes).text.split(/\r\n|\r|\n/)) {
    const { problems, statement } = readLine(text);
    for (const { span, message } of problems) {
      if (!(span.start >= 0 && span.start <= span.end && span.end <= text.length))
        expect.fail(`${message} at no place`);
      if (!/[.?]$/.test(message)) expect.fail(`not a sentence: ${message}`);
    }
    for (const { value } of statement?.facts ?? [])
      if (value.kind === 'amount')
        for (const end of [value.low, value.high])
          if (end !== undefined && !Number.isFinite(end)) expect.fail(`${end} in ${text}`);
    tryFormat(text);
  }
}

function tryFormat(text: string): void {
  const laid = formatText(text);
  if (laid === text) return;
  if (formatText(laid) !== laid)
    expect.fail(`laid out again it changes: ${JSON.stringify([text, laid, formatText(laid)])}`);
  const meaning = (of: string) => openDocument('a.graft', of).entries.map(({ line, day }) => [day, said(line.text)]);
  expect(meaning(laid)).toEqual(meaning(text));
}

/** A figure that isn't one would be `null` in JSON, and nobody would see it. */
const noFigure = (key: string, value: unknown) => {
  if (typeof value === 'number' && !Number.isFinite(value)) expect.fail(`${value} for ${key}`);
  return value;
};

/** A whole log: findings, work, figures, pages, tables and the calendar. */
export function tryLog(bytes: Buffer, day: number): void {
  const { text } = decode(bytes);
  tryFormat(text);
  const log = new Log();
  log.addFile('a.graft', text);
  const answers = new Answers(log, day);
  for (const { span, entry, message } of answers.findings())
    if (!(span.start >= 0 && span.start <= span.end && span.end <= entry.line.text.length))
      expect.fail(`${message} at no place`);
  const work = answers.work();
  const figures = [...answers.all()].map((answer) => answer.figures);
  const report = seasonReport(answers, 6);
  const stats = statsOf(answers.record(), { by: ['batch'], compare: ['method', 'hand'] }, answers.env);
  const plan = planOf(answers.record(), { takes: 20, confidence: usualConfidence, batches: 1 }, answers.env);
  JSON.stringify([figures, reportJson(report), statsJson(stats), plan && planJson(plan)], noFigure);
  for (const page of [seasonPage(report), benchSheet(answers), ...labelPages(answers)])
    if (/<script|javascript:|\bundefined\b|\bNaN\b/i.test(page))
      expect.fail(`in a page: ${page.match(/.{40}(<script|javascript:|\bundefined\b|\bNaN\b).{40}/i)?.[0]}`);
  for (const table of allTables(answers)) for (const _ of csvText(table, true));
  if (work.length > 0) icalendar(answers, work, 0);
}

function labelPages(answers: Answers): string[] {
  const [first] = answers.log.names.batches();
  const found = first === undefined ? 'none' : labelled(answers, first, 40);
  return typeof found === 'string' || found.labels.length > 200 ? [] : [labelSheets(found.labels, 'tray', 'text').html];
}

/** A spreadsheet: what is made of it is a log that reads without a fault. */
export function trySheet(bytes: Buffer, day: number): void {
  const result = importSheet(decode(bytes).text, { file: 'grafts.csv', day, dates: 'us', numbers: '1900' });
  if ('ask' in result) return;
  for (const line of result.done.log.split('\n'))
    if (readLine(line).problems.length > 0) expect.fail(`${line}: ${readLine(line).problems[0]?.message}`);
}

/** A station's file: days rise, figures are figures, or it is refused with a word. */
export function tryStation(bytes: Buffer): void {
  const station = readStation(decode(bytes).text);
  if ('refused' in station) {
    if (station.refused === '') expect.fail('refused without a word');
    return;
  }
  let before = Number.NEGATIVE_INFINITY;
  for (const { day, min = 0, max = 0 } of station.days) {
    if (!(Number.isInteger(day) && day > before && min >= -90 && max <= 60)) expect.fail(`${day}: ${min}, ${max}`);
    before = day;
  }
}
