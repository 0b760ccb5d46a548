import { test } from 'vitest';
import { expectFindings, nursery } from './support.ts';

/*
 * Which on what. Buchholz 2020; Valavanis 2003; Cook, Trees and Shrubs for English Gardens; families after Farjon 2010, from memory.
 */
const only = ['pair-poor', 'pair-never'] as const;

test('families, listed pairs, and what the nursery says itself', () => {
  expectFindings(
    `
${nursery}
tree   T9  Thuja occidentalis  in frame
batch  A27  Pinus parviflora 'Zuisho' / Pinus thunbergii  side-veneer  in frame  film
#           ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ warning pair-poor: Pinus parviflora 'Zuisho' on Pinus thunbergii does poorly (Valavanis 2003: dies on black pine, thrives on Pinus strobus or its own kind).
batch  B27  Pinus parviflora 'Tenysu' / Pinus strobus  side-veneer  in frame  film
batch  C27  Picea pungens / Pinus sylvestris  side-veneer  in frame  film
#           ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ warning pair-poor: Picea on Pinus: two genera of one family seldom last; a \`pair\` line of your own overrules this.
batch  D27  Juniperus chinensis / Pinus sylvestris  side-veneer  in frame  film
#           ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ warning pair-never: Juniperus on Pinus: plants of two families don’t grow together; is one of the names a slip?
batch  E27  Chamaecyparis obtusa / Thuja occidentalis  side-veneer  in frame  film
batch  F27  Acer palmatum / Quercus robur  side-veneer  in frame  film
batch  G27  Acer palmatum / Pinus sylvestris  side-veneer  in frame  film
#           ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ warning pair-never: Acer on Pinus: plants of two families don’t grow together; is one of the names a slip?
batch  H27  Pinus parviflora  side-veneer  film
batch  I27  Juniperus chinensis / Thuja occidentalis / Thuja plicata  side-veneer  in frame  film
#           ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ warning pair-poor: Juniperus on Thuja: two genera of one family seldom last; a \`pair\` line of your own overrules this.
batch  J27  Cedrus libani / Larix decidua  side-veneer  in frame  film
batch  K27  Taxus baccata  side-veneer  in frame  film
pair   Cedrus / Larix  good  source "twelve of twelve lived"
2027-03-15
graft  A27.1
graft  B27.1
graft  C27.1
graft  D27.1
graft  E27.1
graft  F27.1
graft  G27.1
graft  H27.1  onto T9
#             ^^^^^^^ warning pair-never: Pinus on Thuja: plants of two families don’t grow together; is one of the names a slip?
graft  I27.1
graft  J27.1
graft  K27.1
`,
    { on: '2027-03-20', only },
  );
});

test('a dated pair line holds from its day on', () => {
  expectFindings(
    `
${nursery}
batch  C26  Picea pungens / Pinus sylvestris  side-veneer  in frame  film
#           ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ warning pair-poor: Picea on Pinus: two genera of one family seldom last; a \`pair\` line of your own overrules this.
batch  C27  Picea pungens / Pinus sylvestris  side-veneer  in frame  film
2027-01-01  pair  Picea / Pinus  fair
2026-03-15  graft  C26.1
2027-03-15  graft  C27.1
`,
    { on: '2027-03-20', only },
  );
});

test('told once, on the line that says the plants, for all batches that are like it', () => {
  expectFindings(
    `
${nursery}
batch  A27  Pinus mugo / Picea abies  side-veneer  in frame  film
#           ^^^^^^^^^^^^^^^^^^^^^^^^ warning pair-poor: Pinus on Picea: two genera of one family seldom last; a \`pair\` line of your own overrules this; the like holds for A28.1.
batch  A28  like A27
2027-03-15  graft  A27.1
2028-03-15  graft  A28.1
`,
    { on: '2028-03-20', only },
  );
});
