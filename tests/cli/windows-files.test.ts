import { expect, test } from 'vitest';
import { terminal } from '../support/terminal.ts';

const { get, put, run } = terminal();
const lines = (...all: string[]) => all.map((line) => `${line}\r\n`).join('');

test('a log from Windows: its lines end in CRLF, its paths have backslashes, and both stay', () => {
  put('data/station.csv', lines('date,temp_min,temp_max', '2026-10-10,1,9'));
  put(
    '2026.graft',
    lines(
      'place  frame  frost-free shade wind-break',
      'weather  "data\\station.csv"  in frame',
      'batch  K26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame',
      '2026-10-09',
      'graft  K26.1..11    cut 40%  whorls 2',
      'graft  K26.12  cut 22%  whorls 2',
    ),
  );
  const { out } = run(['check', '--on', '2026-11-01']);
  expect(out).toMatch(/^2026\.graft:6:16: information cut-shallow: .*\n\n1 information in 1 file\.\n$/);
  expect(run(['format']).out).toBe('changed 2026.graft\n');
  expect(get('2026.graft')).toBe(
    lines(
      'place    frame  frost-free  shade  wind-break',
      'weather  "data\\station.csv"  in frame',
      'batch    K26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame',
      '2026-10-09',
      'graft    K26.1..11  cut 40%  whorls 2',
      'graft    K26.12     cut 22%  whorls 2',
    ),
  );
});

test('a path on another drive, or a share, is told apart from one in the folder', () => {
  put(
    '2026.graft',
    'place  frame\nweather  "C:\\data\\station.csv"  in frame\nweather  "\\\\shed\\station.csv"  in frame\n',
  );
  expect(run(['check']).out.match(/lies outside the log/g)).toHaveLength(2);
});
