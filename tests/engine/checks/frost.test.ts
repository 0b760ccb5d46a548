import { test } from 'vitest';
import { expectFindings, nursery } from './support.ts';

/*
 * Frost nights and heat. Frost: common practice, no source. 32 °C: Buchholz 2014, AG-396. The seven days of a cold spell: house default.
 */
const only = ['froze', 'too-hot'] as const;

test('a cold spell is told once; 0.0 is no frost; seven days without end it', () => {
  expectFindings(
    `
${nursery}
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
2026-11-01  graft  A26.1..13
2026-11-18  reading  frame  min 0C
2026-11-21  reading  frame  min -1.5C
#                           ^^^^^^^^^ warning froze: −1.5 °C in \`frame\` on 21 Nov: A26.1..13 are in doubt, a tender union dies of frost.
2026-11-24  reading  frame  min -3C
2026-12-01  reading  frame  min -2C
2026-12-09  reading  frame  min -2C
#                           ^^^^^^^ warning froze: −2 °C in \`frame\` on 9 Dec: A26.1..13 are in doubt, a tender union dies of frost.
2026-12-10  reading  frame  min 0C
2026-12-11  reading  frame  min -0.1C
#                           ^^^^^^^^^ warning froze: −0.1 °C in \`frame\` on 11 Dec: A26.1..13 are in doubt, a tender union dies of frost.
`,
    { on: '2027-04-01', only },
  );
});

test('taken, lost, moved away, still fed by its own roots: no doubt', () => {
  expectFindings(
    `
${nursery}
place  shed  frost-free shade wind-break
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
batch  M26  Acer palmatum  approach  in frame
batch  C26  Juniperus chinensis / Juniperus chinensis  chip-bud  in frame
2026-11-01  graft  A26.1..4
2026-11-01  graft  M26.1
2026-11-01  graft  C26.1
2026-11-20  fail   A26.1  dried
2026-11-20  move   A26.2  to shed
2026-11-21  reading  frame  min -1.5C
#                           ^^^^^^^^^ warning froze: −1.5 °C in \`frame\` on 21 Nov: A26.3,4 are in doubt, a tender union dies of frost.
2027-03-20  swell  A26
2027-05-20  free   A26
2027-06-30  take   A26
2027-11-10  reading  frame  min -4C
`,
    { on: '2027-12-01', only },
  );
});

test('maples and larches sleep outdoors; under cover they have begun to wake', () => {
  expectFindings(
    `
${nursery}
batch  A27  Acer palmatum / Acer palmatum  side-veneer  film
batch  L27  Larix decidua / Larix kaempferi  side-veneer  film
2027-01-10  graft  A27.1  in yard
2027-01-10  graft  A27.2  in frame
2027-01-10  graft  L27.1  in yard
2027-02-01  reading  yard  min -6C
2027-02-01  reading  frame  min -1C
#                           ^^^^^^^ warning froze: −1 °C in \`frame\` on 1 Feb: A27.2 is in doubt, a tender union dies of frost.
`,
    { on: '2027-04-01', only },
  );
});

test('heat under a wrap, or on the grafting day', () => {
  expectFindings(
    `
${nursery}
batch  A27  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
batch  J27  Juniperus chinensis / Juniperus chinensis  side-veneer  in frame
2027-03-20  graft  A27.1..3
2027-05-10  reading  frame  max 31.9C
2027-05-11  reading  frame  max 32C
#                           ^^^^^^^ warning too-hot: 32 °C under the wrap: vent and shade.
2027-05-20  swell  A27
2027-05-25  free   A27
2027-06-20  reading  frame  max 36C
2027-06-21  graft  J27.1
2027-06-21  reading  frame  max 33C
#                           ^^^^^^^ warning too-hot: 33 °C on the day of grafting: scions wilt before they are wrapped; a cool morning or shade is kinder.
2027-06-22  reading  frame  max 33C
`,
    { on: '2027-08-01', only },
  );
});
