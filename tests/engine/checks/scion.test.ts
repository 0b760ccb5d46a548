import { test } from 'vitest';
import { expectFindings, nursery } from './support.ts';

/*
 * The scion, its wood, and how it sits. Whorls, wood, sides: common practice, no source. Length, ratio, distance, match: house defaults. Face of 9.8 mm at 40 % of 10 mm: c = 2 √(h (D − h)).
 */

test('whorls of needle conifers', () => {
  expectFindings(
    `
${nursery}
batch  K27  Pinus parviflora / Pinus thunbergii  side-veneer  in frame  film
batch  J27  Juniperus chinensis / Juniperus chinensis  side-veneer  in frame  film
batch  T27  Taxus baccata / Taxus baccata  side-veneer  in frame  film
2027-03-15
graft  K27.1  whorls 0
#             ^^^^^^^^ warning whorls-few: No needle rings: leave 1 or 2, so that the scion goes on drawing sap.
graft  K27.2  whorls 1
graft  K27.3  whorls 2
graft  K27.4  whorls 3
#             ^^^^^^^^ warning whorls-many: 3 needle rings: leave 1 or 2; the rest dries the scion before the union feeds it.
graft  K27.5  whorls 3  scion 6mm x 90mm
graft  K27.6  whorls 4  scion 6mm x 90mm
#             ^^^^^^^^ warning whorls-many: 4 needle rings: leave 1 to 3; the rest dries the scion before the union feeds it.
graft  K27.7  whorls 2..3
#             ^^^^^^^^^^^ warning whorls-many: 2 to 3 needle rings: leave 1 or 2; the rest dries the scion before the union feeds it.
graft  K27.8  whorls 3  scion 5..6mm x 90mm
#             ^^^^^^^^ warning whorls-many: 3 needle rings: leave 1 or 2; the rest dries the scion before the union feeds it.
graft  J27.1  whorls 9
graft  T27.1  whorls 5
`,
    { on: '2027-03-20' },
  );
});

test('buds have no needles, and what stands on its own roots may keep all', () => {
  expectFindings(
    `
${nursery}
batch  C27  Pinus parviflora / Pinus thunbergii  chip-bud  film  in frame
batch  T27  Pinus parviflora / Pinus thunbergii  t-bud  tie  in frame
batch  A27  Pinus parviflora / Pinus thunbergii  approach  in frame
2027-03-15
graft  C27.1  whorls 0
graft  T27.1  whorls 4
graft  A27.1  whorls 8
`,
    { on: '2027-03-20' },
  );
});

test('length and thickness', () => {
  expectFindings(
    `
${nursery}
batch  K27  Pinus parviflora / Pinus thunbergii  side-veneer  in frame  film  long 25mm
batch  N27  Juniperus chinensis / Juniperus chinensis  bark  in frame  film
batch  A27  Acer palmatum  approach  in frame
2027-04-15
graft  K27.1  scion 50mm
graft  K27.2  scion 30mm
#             ^^^^^^^^^^ information scion-short: Scion 30 mm long: hard to hold with a 25 mm face; at least 50 mm is usual.
graft  K27.3  scion 8mm x 80mm  stock 6mm
#             ^^^^^^^^^^^^^^^^ information scion-thick: Scion 8 mm on a 6 mm stock: are the two swapped?
graft  K27.4  scion 6.6mm x 80mm  stock 6mm
graft  N27.1  scion 8mm x 80mm  stock 6mm
graft  A27.1  scion 8mm x 30mm  stock 6mm
`,
    { on: '2027-04-20' },
  );
});

test('wood', () => {
  expectFindings(
    `
${nursery}
batch  K27  Pinus parviflora / Pinus thunbergii  side-veneer  in frame  film
batch  A27  Acer palmatum  thread  in frame
2027-03-01  collect  L1  Pinus parviflora  soft  unpruned 5mo  in frame
#                                          ^^^^ warning wood-soft: Soft wood dries before it knits: ripened wood of last year’s extension is wanted.
#                                                ^^^^^^^^^^^^ warning wood-pruned: Shoot pruned 5 months ago: one left alone 10 months and more makes a long extension.
2027-03-15
graft  K27.1  ripened  unpruned 10mo
graft  K27.2  old
#             ^^^ warning wood-old: Old wood knits slowly: ripened wood of last year’s extension is wanted.
graft  K27.3  soft  unpruned 9mo
#             ^^^^ warning wood-soft: Soft wood dries before it knits: ripened wood of last year’s extension is wanted.
#                   ^^^^^^^^^^^^ warning wood-pruned: Shoot pruned 9 months ago: one left alone 10 months and more makes a long extension.
graft  K27.4..6  lot L1
graft  A27.1  soft
`,
    { on: '2027-03-20' },
  );
});

test('side and distance', () => {
  expectFindings(
    `
${nursery}
batch  K27  Pinus parviflora / Pinus thunbergii  side  onto T5  film
batch  V27  Pinus sylvestris / Pinus thunbergii  cleft  onto T5  film
2027-03-15
graft  K27.1  top  out 5cm
#             ^^^ warning side-top: On top of the branch: makes a weak fork. Under for a replaced branch; left, right or under for a new one.
graft  K27.2  under  out 12cm
#                    ^^^^^^^^ information far-out: 12 cm out: close to trunk or fork it is fed better; up to 5 cm is usual.
graft  K27.3  left  out 12cm  "the only green wood"
graft  V27.1  top  out 30cm
`,
    { on: '2027-03-20' },
  );
});

test('edges that meet', () => {
  expectFindings(
    `
${nursery}
batch  K27  Pinus parviflora / Pinus thunbergii  side-veneer  in frame  film
batch  W27  Pinus sylvestris / Pinus sylvestris  whip  in frame  film
2027-03-15
graft  K27.1  match none
#             ^^^^^^^^^^ warning cambium-unmatched: No edge of the cambium meets: one edge along the whole face is the least a scion can live on.
graft  K27.2  match both  cut 40%  stock 10mm  scion 4mm x 80mm
#             ^^^^^^^^^^ information cambium-unmatched: Both edges can’t meet: face 9.8 mm at the bottom of the cut, scion 4 mm; match one edge with care.
graft  K27.3  match both  cut 40%  stock 10mm  scion 8mm x 80mm
graft  K27.4  match both  cut 40%  scion 4mm x 80mm
graft  K27.5  match one  cut 40%  stock 10mm  scion 4mm x 80mm
graft  W27.1  match both  cut 40%  stock 10mm  scion 4mm x 80mm
graft  W27.2  reset
#             ^^^^^ warning joint-reset: Moved after it was set: cambium is torn; set once, one stroke.
`,
    { on: '2027-03-20', only: ['cambium-unmatched', 'joint-reset'] },
  );
});
