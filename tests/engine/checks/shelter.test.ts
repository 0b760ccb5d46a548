import { test } from 'vitest';
import { expectFindings, nursery } from './support.ts';

/*
 * Cover against frost, sun and wind. Frost: common practice, no source. Shade: Hibbert-Frey et al. 2010, 52 % shaded, 38 not.
 */
const only = ['frost-cover-missing', 'sun-cover-missing', 'wind-cover-missing', 'froze'] as const;

test('frost cover: made or moved from September to the last frost', () => {
  expectFindings(
    `
${nursery}
place  shed  shade wind-break
place  tent  heated shade wind-break
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film
batch  L26  Larix decidua / Larix kaempferi  side-veneer  film
batch  C26  Juniperus chinensis / Juniperus chinensis  chip-bud  film
2026-08-31  graft  A26.1  in shed
2026-09-01  graft  A26.2  in shed
#                         ^^^^^^^ warning frost-cover-missing: Autumn graft in \`shed\`, no frost cover: kept from any freezing these take best; once frozen they are lost.
2026-09-02  graft  A26.3  in shed
2026-10-10  graft  A26.4  in frame
2026-10-10  graft  A26.5  in tent
2026-10-10  graft  A26.6  in attic
2026-10-10  graft  A26.7..9
#                  ^^^^^^^^ hint frost-cover-missing: No place and no cover noted: where they stand, \`in frame\`, tells whether frost can reach them.
2026-10-10  graft  L26.1  in shed
2026-10-10  graft  C26.1  in shed
2027-02-01  move   A26.4  to frame
2027-04-20  move   A26.5  to yard
#                         ^^^^^^^ warning frost-cover-missing: Not taken yet in \`yard\`, no frost cover: kept from any freezing these take best; once frozen they are lost.
#                         ^^^^^^^ warning sun-cover-missing: No shade in \`yard\`: grafts in growth dry out before they are joined.
#                         ^^^^^^^ warning wind-cover-missing: No shelter from wind in \`yard\`: it dries the scion and rocks the union.
2027-05-16  move   A26.4  to yard
`,
    { on: '2027-06-01', only },
  );
});

test('grafts made in spring are asked once frost came', () => {
  expectFindings(
    `
${nursery}
place  shed  shade wind-break
batch  A27  Pinus parviflora / Pinus thunbergii  side-veneer  film
2027-03-20  graft  A27.1  in shed
#                         ^^^^^^^ warning frost-cover-missing: Spring graft in \`shed\`, no frost cover: kept from any freezing these take best; once frozen they are lost.
2027-04-02  reading  shed  min -1C
#                          ^^^^^^^ warning froze: −1 °C in \`shed\` on 2 Apr: A27.1 is in doubt, a tender union dies of frost.
2027-04-20  graft  A27.2  in yard  shade wind-break
`,
    { on: '2027-06-01', only },
  );
});

test('covered that day, uncovered before, own fleece, a tree that was moved', () => {
  expectFindings(
    `
${nursery}
place  shed  shade wind-break
tree   T14  Pinus thunbergii  in shed
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film
2026-10-01  graft  A26.1  in shed  frost-free
2026-10-02  graft  A26.2  in shed
2026-10-02  cover  shed  frost-free
2026-10-05  graft  A26.3  in shed
2026-10-06  uncover  shed
2026-10-07  graft  A26.4  in shed
#                         ^^^^^^^ warning frost-cover-missing: Autumn graft in \`shed\`, no frost cover: kept from any freezing these take best; once frozen they are lost.
2026-10-08  move  T14  to frame
2026-10-09  graft  A26.5  onto T14  out 3cm
2027-02-01  move  T14  to yard
#                      ^^^^^^^ warning frost-cover-missing: Not taken yet in \`yard\`, no frost cover: kept from any freezing these take best; once frozen they are lost.
2027-04-01  swell  A26
2027-05-20  free  A26
`,
    { on: '2027-06-01', only },
  );
});

test('a move that can’t be, of grafts on a tree, brings them nowhere', () => {
  expectFindings(
    `
${nursery}
tree   T14  Pinus thunbergii  in frame
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film
2026-10-09  graft  A26.1  onto T14
2026-10-20  move  A26  to yard
#                 ^^^ error contradiction: A26.1 stands on \`T14\` and can’t move without it: \`move T14\`, or \`sever\` first.
`,
    { on: '2026-10-21', all: true },
  );
});

test('sun and wind: made March to August, moved before the bud is free', () => {
  expectFindings(
    `
${nursery}
place  bench  frost-free
place  lath  shade
batch  A27  Pinus parviflora / Pinus thunbergii  side-veneer  film
batch  D27  Acer palmatum / Acer palmatum  side-veneer  film
batch  C27  Juniperus chinensis / Juniperus chinensis  chip-bud  film  in yard
2027-02-28  graft  A27.1  in bench
2027-03-01  graft  A27.2  in bench
#                         ^^^^^^^^ warning sun-cover-missing: No shade in \`bench\`: grafts in growth dry out before they are joined.
2027-03-02  graft  A27.3  in lath
#                         ^^^^^^^ warning wind-cover-missing: No shelter from wind in \`lath\`: it dries the scion and rocks the union.
2027-03-02  graft  A27.4  in frame
2027-03-03  graft  A27.5
2027-03-20  graft  D27.1  in yard
2027-05-20  move   A27.4  to yard
#                         ^^^^^^^ warning sun-cover-missing: No shade in \`yard\`: grafts in growth dry out before they are joined.
#                         ^^^^^^^ warning wind-cover-missing: No shelter from wind in \`yard\`: it dries the scion and rocks the union.
2027-06-01  free   A27.1
2027-06-02  move   A27.1  to yard
2027-07-20  graft  D27.2  in yard
#                         ^^^^^^^ warning sun-cover-missing: No shade in \`yard\`: grafts in growth dry out before they are joined.
#                         ^^^^^^^ warning wind-cover-missing: No shelter from wind in \`yard\`: it dries the scion and rocks the union.
2027-08-02  graft  C27.1
`,
    { on: '2027-09-10', only },
  );
});
