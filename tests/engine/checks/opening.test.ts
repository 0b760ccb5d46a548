import { test } from 'vitest';
import { expectFindings, nursery } from './support.ts';

/*
 * Opening the wrap. Steps of 5 to 10 points, 10 to 14 days apart: common practice, no source; bonsaitonight.com 2013.
 */
const only = ['open-early', 'open-wide', 'open-soon', 'dry-opened'] as const;

test('ten days and ten points are good; the first step counts from nothing', () => {
  expectFindings(
    `
${nursery}
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
2026-10-10  graft  A26.1..9
2027-03-20  swell  A26
2027-03-21  open  A26.1  10%
2027-03-21  open  A26.2  11%
#                        ^^^ warning open-wide: From 0 to 11 %: open 5 to 10 points at a time, so that the scion hardens.
2027-03-21  open  A26.3  5..15%
#                        ^^^^^^ warning open-wide: From 0 to 15 %: open 5 to 10 points at a time, so that the scion hardens.
2027-03-31  open  A26.1  20%
2027-03-31  open  A26.2  25%
#                        ^^^ warning open-wide: From 11 to 25 %: open 5 to 10 points at a time, so that the scion hardens.
2027-04-09  open  A26.1  30%
#^^^^^^^^^ warning open-soon: 9 days after the last step: wait 10 to 14 days.
2027-04-20  free  A26.1
2027-04-21  open  A26.1  100%
2027-04-22  rewrap  A26.2
2027-05-02  open  A26.2  10%
`,
    { on: '2027-06-01', only },
  );
});

test('opened before any swelling; seen on the same day is seen', () => {
  expectFindings(
    `
${nursery}
place  tent  frost-free shade wind-break humid
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
batch  B26  Pinus parviflora / Pinus thunbergii  side-veneer  in tent
batch  C26  Acer palmatum / Acer palmatum  chip-bud  film  in tent
2026-10-10
graft  A26.1..9
graft  B26.1..9
graft  C26.1
2027-03-20  open   A26.1  10%
#                         ^^^ warning open-early: Opened, and no swelling noted. Seen it? Add the \`swell\` line.
2027-03-21  open   A26.2  10%
2027-03-21  swell  A26.2
2027-03-22  free   A26.3
2027-03-23  open   A26.3  10%
2027-03-24  open   tent  10%
#                        ^^^ warning open-early: Opened, and no swelling noted. Seen it? Add the \`swell\` line.
2027-03-25  swell  B26
2027-03-26  open   tent  20%
`,
    { on: '2027-06-01', only },
  );
});

test('mould or water seen: this opening airs them', () => {
  expectFindings(
    `
${nursery}
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
2026-10-10  graft  A26.1..9
2027-02-10  check  A26.1  mould
2027-02-11  open   A26.1  30%
2027-03-01  check  frame  wet
2027-03-02  open   A26.2  30%
2027-03-03  open   A26.2  45%
#^^^^^^^^^ warning open-soon: 1 day after the last step: wait 10 to 14 days.
#                         ^^^ warning open-early: Opened, and no swelling noted. Seen it? Add the \`swell\` line.
#                         ^^^ warning open-wide: From 30 to 45 %: open 5 to 10 points at a time, so that the scion hardens.
2027-03-20  swell  A26
2027-03-25  check  A26.3  mould
2027-03-27  open   A26.3  10%
2027-03-29  open   A26.3  20%
#^^^^^^^^^ warning open-soon: 2 days after the last step: wait 10 to 14 days.
`,
    { on: '2027-06-01', only },
  );
});

test('found dry, opened further', () => {
  expectFindings(
    `
${nursery}
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
2026-10-10  graft  A26.1..9
2027-03-20  swell  A26
2027-03-22  open   A26  10%
2027-04-13  check  A26.1..5  dry
2027-04-14  rewrap  A26.2
2027-04-15  check  A26.3  plump
2027-04-27  open   A26.1  20%
#                         ^^^ warning dry-opened: Found dry on 13 Apr, opened more on 27 Apr: cover again first.
2027-04-27  open   A26.2  10%
2027-04-27  open   A26.3  20%
2027-04-28  open   A26.4  20%
2027-05-09  open   A26.1  30%
`,
    { on: '2027-06-01', only },
  );
});
