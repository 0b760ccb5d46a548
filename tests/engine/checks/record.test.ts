import { test } from 'vitest';
import { expectFindings, nursery } from './support.ts';

/*
 * Judged early, moved early, a full place. 21 days: Copes 1969 (35 days in warmth). 42 days: house default.
 */
const only = ['take-early', 'swell-early', 'place-full'] as const;

test('judged and moved too early', () => {
  expectFindings(
    `
${nursery}
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
batch  C27  Acer palmatum / Acer palmatum  chip-bud  film  in frame
2027-03-01  graft  A26.1..9
2027-03-22  swell  A26.1
2027-03-21  swell  A26.2
#^^^^^^^^^ information swell-early: Buds move after 20 days: cool, shade, keep closed (Copes 1969: a sound union took 35 days in warmth).
2027-04-11  take  A26.1..4
#^^^^^^^^^ information take-early: Judged after 41 days: a fresh green scion can live on callus. Look again; the rate counts it apart.
2027-04-12  take  A26.5..9
2027-05-12  take  A26.1..4
2027-08-01  graft  C27.1..9
2027-08-14  take  C27.1
#^^^^^^^^^ information take-early: Judged after 13 days: a fresh green scion can live on callus. Look again; the rate counts it apart.
2027-08-15  take  C27.2..9
`,
    { on: '2028-03-01', only },
  );
});

test('a place that is full is told on the line that passes the limit, once until there is room', () => {
  expectFindings(
    `
${nursery}
place  pit  frost-free shade wind-break  capacity 60
tree   T14  Pinus thunbergii  in pit
batch  A27  Pinus parviflora / Pinus thunbergii  side-veneer  film
2027-01-10  graft  A27.1..60  in pit
2027-01-11  graft  A27.61..70  in pit
#                              ^^^^^^ information place-full: 70 in \`pit\`, room for 60.
2027-01-12  graft  A27.71  onto T14
2027-02-01  fail   A27.1..12  dried
2027-02-02  graft  A27.72..80  in pit
#                              ^^^^^^ information place-full: 68 in \`pit\`, room for 60.
2027-02-03  move   A27.20..40  to frame
2027-02-04  move   A27.20..30  to pit
`,
    { on: '2028-03-01', only },
  );
});

test('a year without a line, and grafts no longer fill their place', () => {
  expectFindings(
    `
${nursery}
place  pit  frost-free shade wind-break  capacity 10
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in pit
batch  B27  Pinus parviflora / Pinus thunbergii  side-veneer  film  in pit
batch  C28  Pinus parviflora / Pinus thunbergii  side-veneer  film  in pit
2027-01-10  graft  A26.1..10
2028-01-10  graft  B27.1
#                  ^^^^^ information place-full: 11 in \`pit\`, room for 10.
2029-01-11  graft  C28.1..10
`,
    { on: '2029-03-01', only },
  );
});
