import { spawnSync } from 'node:child_process';
import { symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { terminal } from '../support/terminal.ts';
import { mild, stationText } from '../support/weather.ts';

/* `weather` lines from the command line: the file is read from the disk, and no other one. */

const { folder, put, run } = terminal();
const check = (paths: readonly string[], input?: string) => run(['check', ...paths, '--on', '2026-12-01'], input).out;
/** What is said of `weather` lines: `2 There is no file …`. */
function said(paths: readonly string[]): string[] {
  const { findings } = JSON.parse(run(['check', ...paths, '--on', '2026-12-01', '--format', 'json']).out);
  return findings
    .filter((one: { code: string }) => one.code === 'unreadable')
    .map(
      (one: { line: number; severity: string; message: string }) =>
        `${one.line} ${one.severity === 'error' ? '' : `${one.severity} `}${one.message.replaceAll('\u00A0', ' ')}`,
    );
}

const nursery = `site   Drumlin-Lane  lat 47.90  lon 8.10
place  yard
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film
2026-10-10  graft  A26.1..4  in yard
`;
const cold = mild('2026-10-01', '2026-12-31', { '2026-11-20': -3.1 });
const froze =
  '-3.1 °C in `yard` on 20 Nov by the station: A26.1..4 are in doubt, a tender union dies of frost.'.replace('-', '−');

describe('a station’s file beside the log', () => {
  test('is read, in whatever way the log is given', () => {
    put('log/a.graft', `${nursery}weather "station.csv"  in yard\n`);
    put('log/station.csv', cold);
    expect(check(['log'])).toContain(froze);
    expect(check(['log/a.graft'])).toContain(froze);
    expect(check([join(folder(), 'log')])).toContain(froze);
    expect(check([])).toContain(froze);
  });

  test('of a log from standard input it lies in the working folder', () => {
    put('station.csv', cold);
    expect(check(['-'], `${nursery}weather "station.csv"  in yard\n`)).toContain(froze);
  });

  test('lies beside the file that names it, up to the folder that was given', () => {
    put('log/2026/a.graft', `${nursery}weather "../stations/yard.csv"  in yard\n`);
    put('log/stations/yard.csv', cold);
    expect(check(['log'])).toContain(froze);
    expect(said(['log/2026'])).toEqual([
      '5 `../stations/yard.csv` lies outside the log’s folder and isn’t read: put the file beside the log.',
    ]);
  });

  test('in UTF-16 with its mark, as some programs on Windows write', () => {
    put('a.graft', `${nursery}weather "station.csv"  in yard\n`);
    put('station.csv', Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from(cold, 'utf16le')]));
    expect(check([])).toContain(froze);
  });

  test('its nights are work, too: the morning after, look', () => {
    put('a.graft', `${nursery}2026-11-18  check  A26  plump\nweather "station.csv"  in yard\n`);
    put('station.csv', cold);
    const work = JSON.parse(run(['due', '--on', '2026-11-21', '--format', 'json']).out).work;
    expect(work.find(({ what }: { what: string }) => what === 'look').why).toBe(
      'frost where they stood on 20 Nov: look the morning after',
    );
  });

  test('its ten years decide how long cover stays on, in the work list and on the sheet', () => {
    // no night below 0 °C in eleven years: nobody is asked to cover
    put('a.graft', nursery);
    const asked = () =>
      JSON.parse(run(['due', '--on', '2026-11-21', '--format', 'json']).out).work.map(
        ({ what }: { what: string }) => what,
      );
    expect(asked()).toContain('cover');
    put('station.csv', mild('2016-01-01', '2026-11-20'));
    put('b.graft', 'weather "station.csv"\n');
    expect(asked()).not.toContain('cover');
    expect(run(['sheet', '--on', '2026-11-21', '--out', '-']).out).not.toContain('without frost cover');
    expect(run(['stats', '--on', '2026-11-21'])).toMatchObject({ status: 0, err: '' });
  });
});

describe('what a log may not name stays closed', () => {
  const secret = 'password,of,drumlin,lane\n';
  test('paths that lead out of the folder, in words or by a link; the sentence has nothing of what is in there', () => {
    put('outside.csv', secret);
    put('log/sub/inside.csv', cold);
    symlinkSync('../outside.csv', join(folder(), 'log/link.csv'));
    symlinkSync('..', join(folder(), 'log/up'));
    symlinkSync('sub/inside.csv', join(folder(), 'log/within.csv'));
    symlinkSync(join(folder(), 'log/circle.csv'), join(folder(), 'log/circle.csv'));
    const paths = [
      '../outside.csv',
      join(folder(), 'outside.csv'),
      'sub/../../outside.csv',
      'link.csv',
      'up/outside.csv',
      'circle.csv',
      'within.csv',
    ];
    put('log/a.graft', `${nursery}${paths.map((path) => `weather "${path}"\n`).join('')}`);
    const out = said(['log']);
    expect(out.map((line) => line.replace(/^\d+ `.*` /, ''))).toEqual([
      ...Array.from({ length: 5 }, () => 'lies outside the log’s folder and isn’t read: put the file beside the log.'),
      'can’t be read: is it a text file, and may it be opened?',
    ]);
    expect(check(['log'])).not.toContain('password');
  });

  test('no file, a folder, a pipe that never ends, a picture', () => {
    put('a.graft', `weather "gone.csv"\nweather "sub"\nweather "pipe.csv"\nweather "picture.csv"\n`);
    put('sub/x.csv', cold);
    spawnSync('mkfifo', [join(folder(), 'pipe.csv')]);
    put('picture.csv', Buffer.from([0x89, 0x50, 0x4e, 0x47, 0, 0, 0]));
    expect(said([])).toEqual([
      '1 There is no file `gone.csv` beside this log.',
      '2 `sub` can’t be read: is it a text file, and may it be opened?',
      '3 `pipe.csv` can’t be read: is it a text file, and may it be opened?',
      '4 `picture.csv` can’t be read: is it a text file, and may it be opened?',
    ]);
  });

  test('a file larger than any station’s, and one that is no station’s', () => {
    put('a.graft', 'weather "large.csv"\nweather "notes.csv"\n');
    put('large.csv', Buffer.alloc(64_000_001, 0x20));
    put('notes.csv', 'Tag;Min;Max\n1.1.2026;-4;3\n');
    expect(said([])).toEqual([
      '1 `large.csv` is too large: at most 64 MB a station and 256 MB a log are read.',
      '2 `notes.csv` has no columns `DATE` with `TMIN`, `TMAX` or `temp_min`, `temp_max`; it has `Tag`, `Min`, `Max`.',
    ]);
  });

  test('a file whose rows make no sense is said once, on its line', () => {
    put('a.graft', `weather "station.csv"\nweather "station.csv"  in yard\nplace yard\n`);
    put('station.csv', `${stationText('2026-01-01', '2026-03-01', () => [1, 9])}\n31.02.2026,1,2\n`);
    expect(said([])).toEqual([
      '1 information 1 row of `station.csv` is left out: row 62, `31.02.2026` is no date as 2026-10-09 is.',
    ]);
  });
});
