import { existsSync } from 'node:fs';
import { join } from 'node:path';
import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import { terminal } from '../support/terminal.ts';

const { folder, get, put, run } = terminal();

const log = `site   Drumlin-Lane  lat 47.90  lon 8.10  tz Europe/Berlin
place  frame  frost-free shade wind-break
batch  K26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame

2026-10-09
graft  K26.1..11  cut 40%  whorls 2  by mk
graft  K26.12     cut 22%  whorls 2  by mk
2027-03-20
swell  K26
2027-03-24
open   K26  10%
`;

describe('due --format ics', () => {
  test('the same windows as in JSON, as a calendar on standard output', () => {
    put('log.graft', log);
    const { work } = JSON.parse(run(['due', '--on', '2027-04-06', '--format', 'json']).out);
    const { status, out } = run(['due', '--on', '2027-04-06', '--format', 'ics']);
    expect(status).toBe(0);
    expect(out).toMatch(/^BEGIN:VCALENDAR\r\n[\s\S]*END:VCALENDAR\r\n$/);
    expect(out.match(/^DTSTART;VALUE=DATE:\d{8}\r$/gm)).toEqual(
      work.map(({ from }: { from: string }) => `DTSTART;VALUE=DATE:${from.replaceAll('-', '')}\r`),
    );
  });

  test('without work there is no calendar: an empty one is none', () => {
    put('log.graft', 'batch K26 Pinus mugo / Pinus mugo  cleft\n');
    expect(run(['due', '--on', '2027-04-06', '--format', 'ics'])).toEqual({
      status: 0,
      out: '',
      err: 'graftlog: Nothing waits, and nothing is to come: there is no calendar to write.\n',
    });
  });

  test('weeks are no windows', () => {
    put('log.graft', log);
    expect(run(['due', '--on', '2027-04-06', '--format', 'ics', '--hours', '5'])).toEqual({
      status: 2,
      out: '',
      err: 'graftlog: --hours lays out weeks; a calendar has the windows.\n',
    });
  });
});

describe('labels', () => {
  test('one file to print, and how many it holds; an older page is replaced, a log never', () => {
    put('log.graft', log);
    const args = ['labels', '--of', 'K26', '--on', '2027-04-06'];
    expect(run([...args, '--out', 'labels.html'])).toEqual({
      status: 0,
      out: '',
      err: 'Written: labels.html, 12 labels on 1 sheet. Open it in a browser and print it at 100 %, not fitted to the page.\n',
    });
    expect(get('labels.html').match(/<svg/g)?.length).toBe(12);
    expect(run([...args, '--out', 'labels.html', '--code', 'none', '--size', 'strip']).status).toBe(0);
    expect(get('labels.html')).not.toContain('<svg');
    expect(run([...args, '--out', 'log.graft']).status).toBe(2);
    expect(get('log.graft')).toBe(log);
  });

  test('what is left out is said; what can’t be is one sentence and exit 2', () => {
    put('log.graft', log);
    const labels = (...args: string[]) => run(['labels', '--on', '2027-04-06', '--out', '-', ...args]);
    expect(labels('--of', 'K26.12..13').err).toBe('graftlog: K26.13 is not made yet: no date is printed.\n');
    expect(labels().err).toBe('graftlog: --of names the grafts: --of K26.1..40.\n');
    expect(labels('--of', 'K27').err).toBe('graftlog: There is no batch K27 in this log: is it K26?\n');
    expect(labels('--of', 'K26', '--size', 'huge').err).toMatch(/^graftlog: --size is one of label, letter, /);
    expect(labels('--of', 'K26', '--code', 'qr')).toMatchObject({ status: 2, out: '' });
  });
});

describe('export', () => {
  const rows = (text: string) =>
    Papa.parse<Record<string, string>>(text.replace(/^\uFEFF/, ''), { header: true, skipEmptyLines: true }).data;
  const json = (...args: string[]) => JSON.parse(run([...args, '--on', '2027-04-06', '--format', 'json']).out);

  test('the same findings, work and figures as the other commands have in JSON', () => {
    put('log.graft', log);
    expect(run(['export', '--on', '2027-04-06', '--out', 'tables'])).toEqual({
      status: 0,
      out: '',
      err: 'Written: tables, 7 tables and datapackage.json.\n',
    });
    const found = rows(get('tables/findings.csv').replaceAll('\u00A0', ' ')).map(({ code, line, message }) => [
      ...[code, Number(line), message],
    ]);
    expect(found).toEqual(
      json('check').findings.map((one: Record<string, unknown>) => [one.code, one.line, one.message]),
    );
    const work = rows(get('tables/work.csv'));
    expect(work.map(({ what, grafts, from, by }) => [what, grafts, from, by])).toEqual(
      json('due').work.map((one: Record<string, unknown>) => [one.what, one.grafts, one.from, one.by]),
    );
    const figures = rows(get('tables/figures.csv')).map((row) => [row.batch, Number(row.grafted), row.rate, row.worst]);
    expect(figures).toEqual(
      json('stats').groups.map(
        (one: { key: { batch: string }; grafted: number; rate: number | null; worst: number }) => [
          ...[one.key.batch, one.grafted, one.rate === null ? '' : String(one.rate)],
          one.worst === null ? '' : String(one.worst),
        ],
      ),
    );
    expect(JSON.parse(get('tables/datapackage.json')).resources).toHaveLength(7);
  });

  test('nothing is written over, and nothing half is left', () => {
    put('log.graft', log);
    put('tables/work.csv', 'mine');
    const args = ['export', '--on', '2027-04-06', '--out', 'tables'];
    expect(run(args)).toEqual({
      status: 2,
      out: '',
      err: 'graftlog: tables holds work.csv already, and nothing is written over: name a new folder.\n',
    });
    expect(get('tables/work.csv')).toBe('mine');
    expect(existsSync(join(folder(), 'tables/grafts.csv'))).toBe(false);
    expect(run(['export', '--out', 'log.graft']).err).toMatch(
      /^graftlog: log\.graft can’t be written \(\w+\); nothing is left behind\.\n$/,
    );
    expect(run(['export']).err).toBe('graftlog: --out names the folder the tables go to: --out tables.\n');
  });

  test('due --format csv is the table of work', () => {
    put('log.graft', log);
    run(['export', '--on', '2027-04-06', '--out', 'tables']);
    expect(run(['due', '--on', '2027-04-06', '--format', 'csv']).out).toBe(
      get('tables/work.csv').replaceAll('\u00A0', ' '),
    );
    expect(run(['due', '--on', '2027-04-06', '--format', 'csv', '--spreadsheet']).out).toMatch(/^\uFEFFwhat,/);
  });
});
