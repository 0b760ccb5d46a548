import { describe, expect, test } from 'vitest';
import { terminal } from '../support/terminal.ts';

const { get, put, run } = terminal();

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
