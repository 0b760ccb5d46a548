import { describe, expect, test } from 'vitest';
import { terminal } from '../support/terminal.ts';

const { put, run } = terminal();

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
