import { describe, expect, test } from 'vitest';
import { inlayHint } from '#server/lsp/inlay-hint.ts';
import { folderOf } from '../support/view.ts';

const whole = { start: { line: 0, character: 0 }, end: { line: 9999, character: 0 } };

/** Lines with their hints in braces where they stand. */
function hinted(log: string, on: string, range = whole): string[] {
  const folder = folderOf(log, on);
  const view = folder.view();
  return inlayHint(view, range).map(({ position: { line, character }, label }) => {
    const text = view.document.entryAt(line)?.line.text ?? '';
    return `${line + 1}: ${text.slice(0, character)}{${label}}${text.slice(character)}`;
  });
}

const season = `
site Drumlin-Lane  lat 47.90
place frame  frost-free shade wind-break
batch K26  Pinus parviflora / P. thunbergii  side-veneer  film 38mm  in frame
2026-10-09
graft K26.1..11  cut 40%
2026-10-12
graft K26.12..20  cut 40%
2027-03-20
swell K26  # early
2027-03-24
open K26 10%
`;

describe('the next step, at the end of the set’s last line', () => {
  test('where it is near', () => {
    expect(hinted(season, '2027-03-30').at(-1)).toBe('11: open K26 10%{next step 3–7 Apr}');
    expect(hinted(season, '2027-04-20').at(-1)).toBe('11: open K26 10%{next step 13 days late}');
  });
  test('and not while it is far off', () => {
    expect(hinted(season, '2027-03-24').filter((line) => line.includes('next'))).toEqual([]);
  });
  test('its kind and reason are a pointer away', () => {
    const [hint] = inlayHint(folderOf(season, '2027-03-30').view(), {
      start: { line: 10, character: 0 },
      end: whole.end,
    });
    expect(hint?.tooltip).toMatch(/^K26\.1\.\.20: open a step to 15–20\u00A0%, 20 grafts: /);
  });
  test('never longer than 28 characters', () => {
    const log = 'batch K26  Pinus mugo  side-veneer  film\n2026-10-09 graft K26.1..2';
    for (const on of ['2026-10-20', '2026-12-24', '2027-03-01', '2027-05-01', '2028-01-01'])
      for (const line of hinted(log, on)) expect(/\{(.*)\}/.exec(line)?.[1]?.length).toBeLessThanOrEqual(28);
  });
});

test('days since grafting, where a line tells how grafts fare', () => {
  expect(hinted(season, '2027-03-24')).toEqual(['9: swell K26  # early{day 159–162}']);
  expect(hinted(`${season}2027-07-01 fail K26.1..3`, '2027-07-01').at(-1)).toBe(
    '12: 2027-07-01 fail K26.1..3{day 265}',
  );
});

describe('the day that is carried down', () => {
  test('below a line that has another one', () => {
    expect(
      hinted(
        '2026-10-09\nfeed K26\n2026-10-01 feed K26.1\nfeed K26\nfeed K26\nbatch K26\n2026-10-10\nfeed K26',
        '2026-10-09',
      ),
    ).toEqual(['4: {2026-10-09}feed K26']);
  });
  test('and again every twenty lines, wherever one looks', () => {
    const log = `2026-10-09\n${'feed K26\n'.repeat(45)}`;
    expect(hinted(log, '2026-10-09').map((line) => line.split(':')[0])).toEqual(['21', '41']);
    const sight = { start: { line: 30, character: 0 }, end: { line: 44, character: 0 } };
    expect(hinted(log, '2026-10-09', sight).map((line) => line.split(':')[0])).toEqual(['41']);
  });
  test('none where there is none', () => {
    expect(hinted('feed K26\nfeed K26', '2026-10-09')).toEqual([]);
  });
});
