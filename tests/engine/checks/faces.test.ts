import { test } from 'vitest';
import { expectFindings, nursery } from './support.ts';

/*
 * Faces of the scion's cut. Five scions and 25 mm: from memory. Cleft: huntmyfood.com. Whip: raintreenursery.com. Saddle: an unsigned reprint. Bark: house default.
 */
const only = ['face-short', 'faces-level'] as const;

test('long face: five scions and at most 25 mm; 20 mm where the scion is not told', () => {
  expectFindings(
    `
${nursery}
batch  K27  Pinus parviflora / Pinus thunbergii  side-veneer  in frame  film
2027-03-15
graft  K27.1  scion 5mm x 80mm  long 25mm
graft  K27.2  scion 5mm x 80mm  long 24mm
#                               ^^^^^^^^^ warning face-short: Face 24 mm: at least 25 mm on a 5 mm scion, to hold the scion and to heal.
graft  K27.3  scion 8mm x 80mm  long 25mm
graft  K27.4  scion 3mm x 80mm  long 15mm
graft  K27.5  scion 3mm x 80mm  long 14mm
#                               ^^^^^^^^^ warning face-short: Face 14 mm: at least 15 mm on a 3 mm scion, to hold the scion and to heal.
graft  K27.6  long 20mm
graft  K27.7  long 19mm
#             ^^^^^^^^^ warning face-short: Face 19 mm: at least 20 mm, to hold the scion and to heal.
graft  K27.8  long 110mm
`,
    { on: '2027-03-20', only },
  );
});

test('other methods have faces of their own', () => {
  expectFindings(
    `
${nursery}
batch  K27  Pinus sylvestris / Pinus sylvestris  cleft  in frame  film
batch  L27  Pinus sylvestris / Pinus sylvestris  whip  in frame  film
batch  M27  Pinus sylvestris / Pinus sylvestris  saddle  in frame  film
batch  N27  Juniperus chinensis / Juniperus chinensis  bark  in frame  film
2027-04-15
graft  K27.1  long 15mm
graft  K27.2  long 14mm
#             ^^^^^^^^^ warning face-short: Face 14 mm: at least 15 mm, to hold the scion and to heal.
graft  L27.1  scion 6mm x 80mm  long 24mm
graft  L27.2  scion 6mm x 80mm  long 23mm
#                               ^^^^^^^^^ warning face-short: Face 23 mm: at least 24 mm on a 6 mm scion, to hold the scion and to heal.
graft  L27.3  long 5mm
graft  M27.1  long 11mm
#             ^^^^^^^^^ warning face-short: Face 11 mm: at least 12 mm, to hold the scion and to heal.
graft  N27.1  long 24mm
#             ^^^^^^^^^ warning face-short: Face 24 mm: at least 25 mm, to hold the scion and to heal.
`,
    { on: '2027-04-20', only },
  );
});

test('second cut up to 40 % of the first', () => {
  expectFindings(
    `
${nursery}
batch  K27  Pinus parviflora / Pinus thunbergii  side-veneer  in frame  film  long 30mm
batch  V27  Pinus sylvestris / Pinus sylvestris  cleft  in frame  film
2027-03-15
graft  K27.1  short 12mm
graft  K27.2  short 13mm
#             ^^^^^^^^^^ warning faces-level: Second cut 13 mm against 30 mm: up to 40 % of it, one quick cut, is usual.
graft  V27.1  long 20mm  short 20mm
`,
    { on: '2027-03-20', only },
  );
});
