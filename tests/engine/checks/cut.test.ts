import { test } from 'vitest';
import { expectFindings, nursery } from './support.ts';

/*
 * Depth of the cut. 30 to 50 % on a branch: common practice, no source. Shallow on a pot: propg.ifas.ufl.edu, side-veneer. A chip's third: house default.
 * Strength left in a round branch: circular-segment.csv and Roark's table of plane areas, see figures/cut-geometry.test.ts.
 */

test('branches: 30 and 50 % are good, a shade beyond is not', () => {
  expectFindings(
    `
${nursery}
batch  K27  Pinus parviflora / Pinus thunbergii  side  onto T5  film
2027-03-15
graft  K27.1  cut 30%
graft  K27.2  cut 50%
graft  K27.3  cut 29.9%
#             ^^^^^^^^^ warning cut-shallow: Cut 29.9 % deep: side grafts are cut 30 to 50 %, so the scion is held and enough cambium lies bare.
graft  K27.4  cut 22%
#             ^^^^^^^ warning cut-shallow: Cut 22 % deep: side grafts are cut 30 to 50 %, so the scion is held and enough cambium lies bare.
graft  K27.5  cut 50.4%
#             ^^^^^^^^^ warning cut-deep: Cut 50.4 % deep: side grafts are cut 30 to 50 %; about 24 % of the branch’s strength is left, so splint it.
graft  K27.6  cut 2mm  stock 9mm
#             ^^^^^^^ warning cut-shallow: 2 mm into 9 mm is 22 %: side grafts are cut 30 to 50 %, so the scion is held and enough cambium lies bare.
graft  K27.7  cut 7mm  stock 12mm
#             ^^^^^^^ warning cut-deep: 7 mm into 12 mm is 58 %: side grafts are cut 30 to 50 %; about 16 % of the branch’s strength is left, so splint it.
graft  K27.8  cut 2mm
graft  K27.9  cut 3mm  stock 10mm
`,
    { on: '2027-03-20' },
  );
});

test('an interval is out where either end is', () => {
  expectFindings(
    `
${nursery}
batch  K27  Pinus parviflora / Pinus thunbergii  side  onto T5  film
2027-03-15
graft  K27.1  cut 25..35%
#             ^^^^^^^^^^^ warning cut-shallow: Cut 25 to 35 % deep: side grafts are cut 30 to 50 %, so the scion is held and enough cambium lies bare.
graft  K27.2  cut 45..55%
#             ^^^^^^^^^^^ warning cut-deep: Cut 45 to 55 % deep: side grafts are cut 30 to 50 %; about 19 % of the branch’s strength is left, so splint it.
graft  K27.3  cut 30..50%
graft  K27.4  cut 3mm  stock 9..12mm
#             ^^^^^^^ warning cut-shallow: 3 mm into 9 to 12 mm is 25 to 33 %: side grafts are cut 30 to 50 %, so the scion is held and enough cambium lies bare.
`,
    { on: '2027-03-20' },
  );
});

test('side-veneer on a pot is shallower; beyond 10 to 50 % it is a warning, beyond 30 information', () => {
  expectFindings(
    `
${nursery}
batch  K27  Pinus parviflora / Pinus thunbergii  side-veneer  in frame  film
2027-03-15
graft  K27.1  cut 8%
#             ^^^^^^ warning cut-shallow: Cut 8 % deep: side-veneer grafts on a potted stem are cut 10 to 50 %, so the scion is held and enough cambium lies bare.
graft  K27.2  cut 10%
#             ^^^^^^^ information cut-shallow: Cut 10 % deep: side-veneer grafts are cut 30 to 50 %, so the scion is held and enough cambium lies bare.
graft  K27.3  cut 30%
graft  K27.4  cut 51%
#             ^^^^^^^ warning cut-deep: Cut 51 % deep: side-veneer grafts on a potted stem are cut 10 to 50 %; about 23 % of the stem’s strength is left, so splint it.
graft  K27.5  cut 20%  under
#             ^^^^^^^ warning cut-shallow: Cut 20 % deep: side-veneer grafts are cut 30 to 50 %, so the scion is held and enough cambium lies bare.
`,
    { on: '2027-03-20' },
  );
});

test('a chip over a third, an approach graft beyond the middle; what has no rule is silent', () => {
  expectFindings(
    `
${nursery}
batch  C27  Acer platanoides / Acer platanoides  chip-bud  in frame
batch  A27  Acer palmatum  approach  in frame
batch  V27  Pinus sylvestris / Pinus sylvestris  cleft  in frame  film
2027-08-18
graft  C27.1  cut 1/3
graft  C27.2  cut 34%
#             ^^^^^^^ warning cut-deep: Cut 34 % deep: chip buds are cut up to 33 %; about 46 % of the stem’s strength is left, so splint it.
graft  A27.1  cut 50%
graft  A27.2  cut 55%
#             ^^^^^^^ warning cut-deep: Cut 55 % deep: approach grafts are cut up to 50 %; about 19 % of the stem’s strength is left, so splint it.
graft  V27.1  cut 90%
`,
    { on: '2027-08-20' },
  );
});

test('the finding stands on the line that wrote the fact', () => {
  expectFindings(
    `
${nursery}
batch  K27  Pinus parviflora / Pinus thunbergii  side  onto T5  film  cut 20%
#                                                                     ^^^^^^^ warning cut-shallow: Cut 20 % deep: side grafts are cut 30 to 50 %, so the scion is held and enough cambium lies bare; the like holds for M27.1.
batch  L27  Pinus parviflora / Pinus thunbergii  side  onto T5  film  cut 2mm
batch  M27  like K27
2027-03-15
graft  K27.1..4
graft  K27.5  cut 35%
graft  L27.1  stock 9mm
#             ^^^^^^^^^ warning cut-shallow: 2 mm into 9 mm is 22 %: side grafts are cut 30 to 50 %, so the scion is held and enough cambium lies bare.
graft  M27.1  onto T5
`,
    { on: '2027-03-20' },
  );
});

test('no depth, where depths are noted in the batch or the file', () => {
  expectFindings(
    `
${nursery}
batch  K27  Pinus parviflora / Pinus thunbergii  side  onto T5  film
batch  V27  Pinus sylvestris / Pinus sylvestris  cleft  in frame  film
2027-03-15
graft  K27.1  cut 40%
graft  K27.2
#      ^^^^^ hint cut-missing: No depth of cut noted, and it is noted elsewhere: \`cut 40%\` or \`cut 3mm\` tells later what worked.
graft  K27.3  cut 40
graft  K27.4  cu
graft  V27.1
`,
    { on: '2027-03-20' },
  );
});

test('nobody notes depths here', () => {
  expectFindings(
    `
${nursery}
batch  K27  Pinus parviflora / Pinus thunbergii  side  onto T5  film
2027-03-15
graft  K27.1
graft  K27.2  cut 40
`,
    { on: '2027-03-20' },
  );
});
