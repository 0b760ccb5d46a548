import { test } from 'vitest';
import { expectFindings, nursery } from './support.ts';

/*
 * When to graft. Firs: Hibbert-Frey et al. 2010, Frey 2009. Buds and bark: Univ. Missouri G6972, dates house defaults. Others: house defaults.
 */
const only = ['season-off'] as const;

test('firs', () => {
  expectFindings(
    `
${nursery}
batch  A27  Abies koreana / Abies nordmanniana  side-veneer  in frame  film
2027-04-15  graft  A27.1
2027-06-01  graft  A27.2
#^^^^^^^^^ warning season-off: Abies grafted in June: out of season (Hibbert-Frey et al. 2010, one fir: April 95 %, mid-July 52 (unshaded 38)).
2027-08-31  graft  A27.3
#^^^^^^^^^ warning season-off: Abies grafted in August: out of season (Hibbert-Frey et al. 2010, one fir: April 95 %, mid-July 52 (unshaded 38)).
2027-09-01  graft  A27.4
#^^^^^^^^^ information season-off: Abies grafted in September: out of season (Frey 2009: early September 3 %; Hibbert-Frey 2010: October 0).
2027-10-15  graft  A27.5
#^^^^^^^^^ information season-off: Abies grafted in October: out of season (Frey 2009: early September 3 %; Hibbert-Frey 2010: October 0).
`,
    { on: '2027-10-20', only },
  );
});

test('other needle conifers, scale-leaved, broadleaves', () => {
  expectFindings(
    `
${nursery}
place  tent  heated shade wind-break
batch  P27  Pinus parviflora / Pinus thunbergii  side-veneer  in frame  film
batch  J27  Juniperus chinensis / Juniperus chinensis  side-veneer  in frame  film
batch  A27  Acer palmatum / Acer palmatum  side-veneer  in frame  film
2027-05-31  graft  P27.1
2027-06-01  graft  P27.2
#^^^^^^^^^ information season-off: Pinus grafted in June: out of season (common practice, no source; from August on it is a season again).
2027-07-31  graft  P27.3
#^^^^^^^^^ information season-off: Pinus grafted in July: out of season (common practice, no source; from August on it is a season again).
2027-08-01  graft  P27.4
2027-07-15  graft  J27.1
2027-07-15  graft  A27.1
2027-09-30  graft  A27.2
2027-10-01  graft  A27.3
#^^^^^^^^^ information season-off: Acer grafted in October: out of season (house default; maples: UBC forum 2009 (winter), Buchholz 2024 (from July)).
2027-11-30  graft  A27.4
#^^^^^^^^^ information season-off: Acer grafted in November: out of season (house default; maples: UBC forum 2009 (winter), Buchholz 2024 (from July)).
2027-12-01  graft  A27.5
`,
    { on: '2027-12-20', only },
  );
});

test('bark, buds: the bark must slip, but under glass the plant sets the season', () => {
  expectFindings(
    `
${nursery}
place  tent  heated shade wind-break
batch  B27  Acer palmatum / Acer palmatum  bark  in frame  film
batch  T27  Acer palmatum / Acer palmatum  t-bud  in frame
batch  C27  Acer palmatum / Acer palmatum  chip-bud  in frame
batch  D27  Acer palmatum / Acer palmatum  t-bud  in tent
2027-03-31  graft  B27.1
#^^^^^^^^^ information season-off: Bark grafts made in March: out of season (house default; the bark must slip: Univ. Missouri G6972).
2027-04-01  graft  B27.2
2027-06-30  graft  B27.3
2027-07-01  graft  B27.4
#^^^^^^^^^ information season-off: Bark grafts made in July: out of season (house default; the bark must slip: Univ. Missouri G6972).
2027-09-30  graft  T27.1
2027-10-01  graft  T27.2
#^^^^^^^^^ warning season-off: T-buds made in October: out of season (house default; the bark must slip, late July to early September: Univ. Missouri G6972).
2027-10-01  graft  C27.1
#^^^^^^^^^ information season-off: Chip buds made in October: out of season (house default).
2027-10-01  graft  D27.1
2027-10-15  graft  B27.5
#^^^^^^^^^ information season-off: Acer grafted in October: out of season (house default; maples: UBC forum 2009 (winter), Buchholz 2024 (from July)).
`,
    { on: '2027-12-20', only },
  );
});
