import { test } from 'vitest';
import { expectFindings, nursery } from './support.ts';

/*
 * Kept from drying. Common practice, no source.
 */
const only = ['wrap-missing'] as const;

test('tied and not covered; no cover noted; and what covers', () => {
  expectFindings(
    `
${nursery}
place  tent  shade wind-break frost-free humid
place  mist-bed  mist shade wind-break frost-free
batch  A27  Pinus parviflora / Pinus thunbergii  side-veneer  in frame  tie rubber
#                                                                       ^^^^^^^^^^ warning wrap-missing: Tied but not covered: film or a bag keeps it from drying.
batch  B27  Pinus parviflora / Pinus thunbergii  side-veneer  in frame  cut 40%
batch  C27  Pinus parviflora / Pinus thunbergii  side-veneer  in frame
batch  D27  Pinus parviflora / Pinus thunbergii  side-veneer  tie rubber
batch  E27  Acer palmatum / Acer palmatum  chip-bud  in frame  cut 30%
batch  F27  Acer palmatum  thread  in frame  tie raffia
2027-03-15
graft  A27.1..4
graft  A27.5  bag
graft  A27.6  wax
graft  A27.7  humid
graft  B27.1
#      ^^^^^ hint wrap-missing: No cover noted: film, a bag, wax or damp air keeps the scion from drying till the bud is out.
graft  B27.2
graft  C27.1
graft  D27.1  in tent
graft  D27.2  in mist-bed
graft  E27.1
graft  F27.1
2027-03-18  swell  B27.2
2027-03-18  open  B27.2  5%
`,
    { on: '2027-03-20', only },
  );
});
