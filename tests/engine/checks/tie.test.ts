import { test } from 'vitest';
import { expectFindings, nursery } from './support.ts';

/*
 * The tie at the union. 1 October of the year it grew: common practice, no source. Broadleaves, buds: house defaults; Kuitert p. 115; t-bud from memory.
 */
const only = ['union-uncovered'] as const;

test('conifers stay bound through the season they grew in', () => {
  expectFindings(
    `
${nursery}
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
batch  B27  Juniperus chinensis / Juniperus chinensis  side-veneer  film  in frame
2026-10-10  graft  A26.1..9
2027-03-20  swell  A26.1..8
2027-05-20  free  A26.1..8
2027-06-30  take  A26.1..8
2027-07-30  graft  B27.1
2027-08-10  graft  B27.2
2027-09-30  untie  A26.1
#^^^^^^^^^ warning union-uncovered: Union bared after 355 days: leave it bound till 1 Oct, so that it doesn’t break.
2027-09-30  untie  A26.9
#^^^^^^^^^ warning union-uncovered: Union bared after 355 days: leave it bound till 1 Oct, so that it doesn’t break.
2027-10-01  untie  A26.2
2027-10-01  untie  B27.1
2027-10-02  untie  B27.2
#^^^^^^^^^ warning union-uncovered: Union bared after 53 days: leave it bound till 1 Oct 2028, so that it doesn’t break.
2028-10-01  retie  B27.2
2028-10-02  untie  B27.2
`,
    { on: '2028-12-01', only },
  );
});

test('a tie seen biting, or bound again that day', () => {
  expectFindings(
    `
${nursery}
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
2026-10-10  graft  A26.1..9
2027-03-20  swell  A26
2027-05-20  free  A26
2027-06-30  take  A26
2027-07-01  check  A26.1,2  biting
2027-07-31  untie  A26.1
2027-08-01  untie  A26.2
#^^^^^^^^^ warning union-uncovered: Union bared after 295 days: leave it bound till 1 Oct, so that it doesn’t break.
2027-08-01  untie  A26.3
2027-08-01  retie  A26.3
2027-09-01  check  frame  biting
2027-09-02  untie  A26.4
`,
    { on: '2028-12-01', only },
  );
});

test('broadleaves, buds, approach grafts', () => {
  expectFindings(
    `
${nursery}
batch  D27  Acer palmatum / Acer palmatum  side-veneer  film  in frame
batch  C27  Acer palmatum / Acer palmatum  chip-bud  film  in frame
batch  T27  Acer palmatum / Acer palmatum  t-bud  tie rubber  in frame
batch  P27  Acer palmatum  approach  in frame
2027-02-10  graft  D27.1..4
2027-04-20  graft  P27.1..2
2027-05-01  free  D27.1..3
2027-06-11  untie  D27.1
#^^^^^^^^^ warning union-uncovered: Union bared after 121 days: leave it bound till 12 Jun, so that it doesn’t break.
2027-06-12  untie  D27.2
2027-06-12  untie  D27.4
2027-08-01  graft  C27.1,2
2027-08-01  graft  T27.1,2
2027-08-14  untie  T27.1
#^^^^^^^^^ warning union-uncovered: Union bared after 13 days: leave it bound till 15 Aug, so that it doesn’t break.
2027-08-15  untie  T27.2
2027-08-21  untie  C27.1
#^^^^^^^^^ warning union-uncovered: Union bared after 20 days: leave it bound till 22 Aug, so that it doesn’t break.
2027-08-22  untie  C27.2
2027-09-01  sever  P27.1
2027-09-01  untie  P27
`,
    { on: '2028-12-01', only },
  );
});
