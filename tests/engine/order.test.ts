import { expect, test } from 'vitest';
import { byCodePoint } from '#server/engine/order.ts';
import { findingsText, logOf } from '../support/log.ts';

test('a history goes by date, time, file path by code point, line', () => {
  const swell = (text: string) =>
    logOf({ 'a.graft': 'batch K26 Pinus mugo\n2026-10-09 graft K26.1\n', ...JSON.parse(text) })
      .history('k26')
      .cohorts[0]?.named.map(({ entry }) => entry.line.text.slice(11));
  expect(
    swell('{"b.graft":"2027-04-01 open K26 20%","c.graft":"2027-04-01 open K26 10%\\n2027-03-01 swell K26"}'),
  ).toEqual(['graft K26.1', 'swell K26', 'open K26 20%', 'open K26 10%']);
  expect(swell('{"b.graft":"2027-04-01 14:00 open K26 20%","c.graft":"2027-04-01 open K26 10%"}')).toEqual([
    'graft K26.1',
    'open K26 10%',
    '14:00 open K26 20%',
  ]);
});

test('nothing sorts the lines: a file may be written in any order', () => {
  expect(
    findingsText(
      logOf('2027-04-12 open K26 20%\n2027-04-01 open K26 10%\n2026-10-09 graft K26.1..4\nbatch K26 Pinus mugo\n'),
    ),
  ).toEqual([]);
});

test('code points, not UTF-16 units: U+FF5E comes before U+1F332', () => {
  expect(
    [byCodePoint('～', '🌲'), byCodePoint('🌲', '～'), byCodePoint('a', 'ab'), byCodePoint('a', 'a')].map(Math.sign),
  ).toEqual([-1, 1, -1, 0]);
});
