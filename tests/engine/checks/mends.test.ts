import { describe, expect, test } from 'vitest';
import type { Code } from '#grammar/codes.ts';
import type { Finding, LogEdit } from '#server/engine/model.ts';
import { findingsIn, listed, nursery } from './support.ts';

/* Mends change the text so that the finding goes; "I know" writes an `accept`. Titles have at most 40 characters. */

const on = '2027-04-20';
const mendsOf = (text: string, code: Code, day = on) =>
  findingsIn(text, { on: day, only: [code] }).flatMap(({ finding }) => finding.mends ?? []);

/** The log after a mend: edits in lines from the right, lines beside them after that. */
function mended(text: string, code: Code, title: string, day = on): string {
  const found = findingsIn(text, { on: day, only: [code] });
  const finding = found.find(({ finding: { mends } }) => mends?.some((mend) => mend.title === title))?.finding;
  const mend = finding?.mends?.find((one) => one.title === title);
  if (!finding || !mend)
    throw new Error(`no mend '${title}' among: ${mendsOf(text, code, day).map((one) => one.title)}`);
  const lines = text.split('\n');
  const edits = mend.edits
    .map((edit) => placed(edit, finding, lines))
    .sort((a, b) => b.line - a.line || b.from - a.from);
  for (const { line, from, to, text: put, where } of edits) {
    const at = lines[line] ?? '';
    if (where === 'in') lines[line] = at.slice(0, from) + put + at.slice(to);
    else lines.splice(where === 'below' ? line + 1 : line, 0, put);
  }
  return lines.join('\n');
}

function placed(
  edit: LogEdit | { span: { start: number; end: number }; text: string },
  finding: Finding,
  lines: readonly string[],
) {
  const entry = 'entry' in edit ? edit.entry : finding.entry;
  const where = 'where' in edit ? edit.where : 'in';
  return {
    line: lines.indexOf(entry.line.text),
    from: edit.span?.start ?? 0,
    to: edit.span?.end ?? 0,
    text: edit.text,
    where,
  };
}

const pot = `${nursery}
place  shed  shade wind-break   # behind the barn
batch  K26  Pinus parviflora / Pinus thunbergii  side-veneer  tie rubber
batch  P26  Picea abies / Pinus sylvestris  side-veneer  film
2026-10-10
graft  K26.1..9  in shed   # cold hands
graft  P26.1     in frame
2027-04-14  open  K26.1..4  10%
graft  K26.10  top  in frame
`;

test.each<[Code, string, RegExp]>([
  ['wrap-missing', 'Add `film`', /^batch {2}K26 .*tie rubber {2}film$/m],
  [
    'frost-cover-missing',
    'Add `frost-free` to shed',
    /^place {2}shed {2}shade wind-break {2}frost-free {3}# behind the barn$/m,
  ],
  ['open-early', 'Add the `swell` line', /^2027-04-14 {2}swell {4}K26\.1\.\.4\n2027-04-14 {2}open/m],
  ['side-top', 'Make it `under`', /^graft {2}K26\.10 {2}under {2}in frame$/m],
  ['pair-poor', 'I know this pair: write it as `fair`', /^pair {2}Picea abies \/ Pinus sylvestris {2}fair$/m],
])('%s: %s', (code, title, written) => {
  const after = mended(pot, code, title);
  expect(after).toMatch(written);
  expect(listed(after, { on, only: [code] })).toEqual([]);
  expect(listed(after, { on, all: true }).filter((line) => / error /.test(line))).toEqual([]);
});

describe('I know', () => {
  test.each([
    ['I know: accept on this line', /^graft {2}K26\.1\.\.9 {2}in shed {2}accept frost-cover-missing {3}# cold hands$/m],
    ['I know: accept for K26', /^accept {3}frost-cover-missing {2}K26$/m],
    ['I know: accept in this log', /^accept {3}frost-cover-missing$/m],
  ])('%s', (title, written) => {
    const after = mended(pot, 'frost-cover-missing', title);
    expect(after).toMatch(written);
    expect(listed(after, { on, only: ['frost-cover-missing'] })).toEqual([]);
  });

  test('a declaration takes no `accept` of its own', () => {
    expect(mendsOf(pot, 'wrap-missing').map(({ title }) => title)).toEqual([
      'Add `film`',
      'I know: accept for K26',
      'I know: accept in this log',
      'Copy its practice line into this log',
    ]);
  });
});

test('grafts with pasts of their own in one set: the swelling of all of them', () => {
  const text = `${nursery}
batch  K27  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
2026-10-10  graft  K27.1..9  cut 40%
2027-03-01  check  K27.1..4  plump
2027-04-14  open   K27.1..6  10%
`;
  const after = mended(text, 'open-early', 'Add the `swell` line');
  expect(after).toMatch(/^2027-04-14 {2}swell {4}K27\.1\.\.6$/m);
  expect(listed(after, { on, only: ['open-early'] })).toEqual([]);
});

test('edges that can’t both meet: one is', () => {
  const text = `${nursery}
batch  K27  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
2027-03-15  graft  K27.1  match both  cut 40%  stock 10mm  scion 4mm x 80mm
`;
  const after = mended(text, 'cambium-unmatched', 'Make it `match one`');
  expect(after).toContain('match one  cut 40%');
  expect(listed(after, { on, only: ['cambium-unmatched'] })).toEqual([]);
});

test('every title fits a menu', () => {
  const long = pot.replaceAll('K26', 'The-very-long-name-of-a-batch-of-pines');
  for (const text of [pot, long])
    for (const { finding } of findingsIn(text, { on }))
      for (const { title } of finding.mends ?? []) expect(title.length).toBeLessThanOrEqual(40);
});

test('a finding leads to the practice line behind it, shipped or own', () => {
  const text = `${nursery}
practice  any  open-every 20d..  source "own record"
batch  K27  Pinus parviflora / Pinus thunbergii  side  onto T5  film
2026-10-10  graft  K27.1  cut 20%
2027-03-20  swell  K27
2027-03-21  open   K27  10%
2027-04-05  open   K27  20%
`;
  const lines = findingsIn(text, { on }).map(({ finding: { code, practice } }) => [
    code,
    practice?.file,
    practice?.line.text.slice(0, 34),
  ]);
  expect(lines).toEqual([
    ['cut-shallow', 'practice.graft', 'practice  side,side-veneer  cut 30'],
    ['open-soon', 'log.graft', 'practice  any  open-every 20d..  s'],
  ]);
});

test('the shipped rule copied into the log keeps its meaning, south too, and can then be changed', () => {
  const text = (lat: string) => `site  Drumlin-Lane  lat ${lat}
place  shed  shade wind-break
batch  K27  Pinus parviflora / Pinus thunbergii  side-veneer  film  in shed
2027-03-10  graft  K27.1
2027-09-10  graft  K27.2
`;
  const only = ['frost-cover-missing'] as const;
  for (const [lat, line, written] of [
    ['47.9', '5 warning frost-cover-missing K27.2', 'within sep-01..last-frost'],
    ['-43.5', '4 warning frost-cover-missing K27.1', 'within mar-01..last-frost'],
  ] as const) {
    expect(listed(text(lat), { on: '2027-10-01', only })).toEqual([line]);
    const after = mended(text(lat), 'frost-cover-missing', 'Copy its practice line into this log', '2027-10-01');
    expect(after).toContain(written);
    const moved = line.replace(/^\d+/, (number) => String(Number(number) + 1));
    expect(listed(after, { on: '2027-10-01', only })).toEqual([moved]);
    expect(listed(after.replace('needs frost-free', 'needs frost-free none'), { on: '2027-10-01', only })).toEqual([]);
  }
});
