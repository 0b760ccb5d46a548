import { test } from 'vitest';
import { expectFindings, nursery } from './support.ts';

/*
 * Heading back. In stages: common practice, no source. 42 days, 14 days: house defaults. All at once after a year: conifer grafter, gardenweb 2007-2009.
 */
const only = ['headback-early', 'headback-hard'] as const;

test('not before the take; preparing the stock is no heading back', () => {
  expectFindings(
    `
${nursery}
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
batch  V26  Pinus sylvestris / Pinus sylvestris  cleft  film  in frame
batch  D27  Acer palmatum / Acer palmatum  side-veneer  film  in frame
2026-10-10  headback  A26.1..9  1/3
2026-10-10  graft  A26.1..9
2026-10-10  graft  V26.1
2027-02-10  graft  D27.1..4
2027-03-20  swell  A26
2027-04-01  headback  A26.1  1/3
#                            ^^^ warning headback-early: Understock shortened before the take: it still feeds the scion’s side.
2027-05-01  free  D27.1..3
2027-05-14  headback  D27.1  50%
#                            ^^^ warning headback-early: Understock shortened before the bud has been free long enough: the scion isn’t on its own yet.
2027-05-15  headback  D27.2  50%
2027-05-16  headback  D27.4  50%
#                            ^^^ warning headback-early: Understock shortened before the bud has been free long enough: the scion isn’t on its own yet.
2027-05-20  free  A26
2027-06-30  take  A26
2027-06-30  headback  A26.2  1/3
2027-06-30  headback  V26.1  100%
`,
    { on: '2028-12-01', only },
  );
});

test('in stages, eight weeks apart; all at once a year after the bud was free', () => {
  expectFindings(
    `
${nursery}
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
batch  C26  Acer palmatum / Acer palmatum  chip-bud  film  in frame
batch  D27  Acer palmatum / Acer palmatum  side-veneer  film  in frame
2026-08-10  graft  C26.1
2026-10-10  graft  A26.1..9
2027-02-10  graft  D27.1
2027-03-20  swell  A26
2027-05-20  free  A26
2027-05-20  free  D27
2027-06-30  take  A26
2027-06-30  take  C26
2027-06-30  take  D27
2027-07-21  headback  A26.1  100%
#                            ^^^^ warning headback-hard: All at once: up to 50 % of it in one visit, so that the scion takes over in stages.
2027-07-21  headback  A26.2  1/2
2027-07-21  headback  A26.3,4  1/3
2027-07-21  headback  D27.1  100%
2027-08-31  headback  A26.3  2/3
#                            ^^^ warning headback-hard: Cut back again 41 days after the last time: the next is due from 1 Sep.
2027-09-01  headback  A26.4  2/3
2028-02-10  headback  C26.1  100%
2028-05-18  headback  A26.5  100%
#                            ^^^^ warning headback-hard: All at once: up to 50 % of it in one visit, so that the scion takes over in stages.
2028-05-19  headback  A26.6  100%
2028-06-01  headback  A26.7  1/2
2028-06-10  headback  A26.7  100%
`,
    { on: '2028-12-01', only },
  );
});
