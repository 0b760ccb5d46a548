import { test } from 'vitest';
import { expectFindings, nursery } from './support.ts';

/*
 * Wood in store. 42 days: hobby forum. 120 days frozen: BC Forest Service 1977, 346 of 352 lived. Dormant wood in summer: Hibbert-Frey et al. 2010. Broadleaves: UBC forum. 5 °C: common practice, no source.
 */
const only = ['stored-long', 'stored-warm'] as const;

test('forty-two days, a hundred and twenty frozen, seven in leaf, sixty for broadleaves', () => {
  expectFindings(
    `
${nursery}
place  fridge  at 2C
place  freezer  at -3C
batch  K27  Pinus parviflora / Pinus thunbergii  side-veneer  in frame  film
batch  A27  Acer palmatum / Acer palmatum  side-veneer  in frame  film
2027-01-01  collect  L1  Pinus parviflora  in fridge
2027-01-01  collect  L2  Pinus parviflora  in freezer
2027-01-01  collect  L3  Acer palmatum  in fridge
2027-01-01  collect  L4  Pinus parviflora  in freezer
2027-01-10  move  L4  to fridge
2027-08-01  collect  L5  Pinus parviflora  in fridge
2027-08-01  collect  L6  Acer palmatum  in fridge
2027-02-12  graft  K27.1  lot L1
2027-02-13  graft  K27.2  lot L1
#                         ^^^^^^ warning stored-long: Stored 43 days: up to 42 when cold and sealed; older wood is dry before it knits.
2027-02-13  graft  K27.3  lot L4
#                         ^^^^^^ warning stored-long: Stored 43 days: up to 42 when cold and sealed; older wood is dry before it knits.
2027-05-01  graft  K27.4  lot L2
2027-05-02  graft  K27.5  lot L2
#                         ^^^^^^ warning stored-long: Stored 121 days: up to 120 when frozen; older wood is dry before it knits.
2027-03-02  graft  A27.1  lot L3
2027-03-03  graft  A27.2  lot L3
#                         ^^^^^^ warning stored-long: Stored 61 days: up to 60 when cold and sealed; older wood is dry before it knits.
2027-08-08  graft  K27.6  lot L5
2027-08-09  graft  K27.7  lot L5
#                         ^^^^^^ warning stored-long: Stored 8 days: up to 7 when cut in leaf; older wood is dry before it knits.
2027-08-19  graft  A27.3  lot L6
`,
    { on: '2027-08-20', only },
  );
});

test('dormant wood in summer: not at all, unless it was kept frozen', () => {
  expectFindings(
    `
${nursery}
place  fridge  at 2C
place  freezer  at -3C
batch  J27  Juniperus chinensis / Juniperus chinensis  side-veneer  in frame  film
2027-03-20  collect  L1  Juniperus chinensis  in fridge
2027-03-20  collect  L2  Juniperus chinensis  in freezer
2027-04-25  collect  L3  Juniperus chinensis  in fridge
2027-04-30  graft  J27.1  lot L1
2027-06-01  graft  J27.2  lot L1
#                         ^^^^^^ warning stored-long: Dormant wood of March used in June: fresh wood is wanted then (Hibbert-Frey et al. 2010: dormant fir wood used in summer, under 1 % took).
2027-06-01  graft  J27.3  lot L2
2027-06-01  graft  J27.4  lot L3
2027-07-18  graft  J27.5  lot L2
2027-07-19  graft  J27.6  lot L2
#                         ^^^^^^ warning stored-long: Stored 121 days: up to 120 when frozen; older wood is dry before it knits.
`,
    { on: '2027-08-20', only },
  );
});

test('too warm: by the place, by the line, by a second reading there', () => {
  expectFindings(
    `
${nursery}
place  fridge  at 5C
place  cellar  at 9C
place  shed
batch  K27  Pinus parviflora / Pinus thunbergii  side-veneer  in frame  film
2027-02-15  collect  L1  Pinus parviflora  in fridge
2027-02-15  collect  L2  Pinus parviflora  in cellar
#                                          ^^^^^^^^^ warning stored-warm: Wood of \`L2\` at 9 °C: buds wake; up to 5 °C it sleeps.
2027-02-15  collect  L3  Pinus parviflora  in shed
2027-02-15  collect  L4  Pinus parviflora  in fridge
2027-02-16  move  L4  to shed  at 7C
#                              ^^^^^ warning stored-warm: Wood of \`L4\` at 7 °C: buds wake; up to 5 °C it sleeps.
2027-02-15  collect  L5  Pinus parviflora  in cellar
2027-02-15  graft  K27.5  lot L5
2027-02-16  reading  shed  min 6C
2027-02-18  reading  shed  min 5C
2027-02-20  reading  shed  min 6.5C
#                          ^^^^^^^^ warning stored-warm: Wood of \`L3\` at 6.5 °C: buds wake; up to 5 °C it sleeps.
2027-03-01  graft  K27.1  lot L1
2027-03-01  graft  K27.2  lot L2
2027-03-01  graft  K27.3  lot L3
2027-03-01  graft  K27.4  lot L4
2027-03-05  reading  shed  min 9C
`,
    { on: '2027-03-20', only },
  );
});
