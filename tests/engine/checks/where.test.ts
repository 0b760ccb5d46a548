import { describe, expect, test } from 'vitest';
import { parseIso } from '#grammar/values/date.ts';
import { station } from '../../support/station.ts';
import { expectFindings, listed, nursery } from './support.ts';

/* The same rules in the south, between the tropics, with a station, and where nobody told the place. */

const site = (lat: string) => `site   Drumlin-Lane  ${lat}
place  shed  shade wind-break
place  frame  frost-free shade wind-break
`;

test('a southern autumn is March to May, and its last frost 15 November', () => {
  expectFindings(
    `
${site('lat -43.50  lon 172.60')}batch  A27  Pinus parviflora / Pinus thunbergii  side-veneer  film  in shed
batch  B27  Abies koreana / Abies nordmanniana  side-veneer  film  in frame
batch  C27  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
2027-02-28  graft  A27.1
2027-03-01  graft  A27.2
#                  ^^^^^ warning frost-cover-missing: Autumn graft in \`shed\`, no frost cover: kept from any freezing these take best; once frozen they are lost.
2027-04-10  graft  C27.1,2
2027-09-20  swell  C27.1,2
2027-10-01  graft  B27.1
2027-11-20  free   C27.1,2
2027-12-30  take   C27.1,2
2028-01-15  graft  B27.2
#^^^^^^^^^ warning season-off: Abies grafted in January: out of season (Hibbert-Frey et al. 2010, one fir: April 95 %, mid-July 52 (unshaded 38)).
2028-03-30  untie  C27.1
#^^^^^^^^^ warning union-uncovered: Union bared after 355 days: leave it bound till 1 Apr, so that it doesn’t break.
2028-04-01  untie  C27.2
`,
    { on: '2028-04-02', only: ['frost-cover-missing', 'season-off', 'union-uncovered'] },
  );
});

test('between the tropics no rule with a season; the others hold', () => {
  const text = `
${site('lat -3.10  lon 37.30')}batch  A27  Abies koreana / Abies nordmanniana  side-veneer  film  in shed
2027-07-15  graft  A27.1  cut 5%
2027-07-20  swell  A27.1
2027-08-01  untie  A27.1
2027-12-30  check  A27.1  green
`.trimStart();
  expect(listed(text, { on: '2028-12-30' })).toEqual(['5 warning cut-shallow A27.1']);
});

test('a place’s own latitude overrules the site’s', () => {
  const text = `
${site('lat 47.90  lon 8.10')}place  south  lat -35  shade wind-break
batch  A27  Abies koreana / Abies nordmanniana  side-veneer  film
2027-01-15  graft  A27.1  in frame
2027-01-16  graft  A27.2  in south
2027-07-15  graft  A27.3  in south
`.trimStart();
  expect(listed(text, { on: '2027-07-20', only: ['season-off'] })).toEqual(['7 warning season-off A27.2']);
});

test('no site: the north is assumed, the last frost that of the warmer half', () => {
  const text = `
place  shed  shade wind-break
batch  A27  Pinus parviflora / Pinus thunbergii  side-veneer  film  in shed
2026-06-10  graft  A27.1
2027-04-30  move   A27.1  to shed
`.trimStart();
  expect(listed(text, { on: '2027-05-20', only: ['frost-cover-missing'] })).toEqual([
    '4 warning frost-cover-missing A27.1',
  ]);
  expect(listed(text.replace('04-30', '05-01'), { on: '2027-05-20', only: ['frost-cover-missing'] })).toEqual([]);
});

describe('with a station', () => {
  const day = (iso: string) => parseIso(iso) ?? 0;
  const text = `${nursery}
place  shed  shade wind-break
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film
2026-10-10  graft    A26.1  in shed
2026-10-10  graft    A26.2  in frame
2026-11-05  reading  shed  min 1C
`;

  test('its frost nights count for a place without cover, but not against the place’s own reading', () => {
    const nights = () => [
      { day: day('2026-11-05'), min: -2 },
      { day: day('2026-11-20'), min: -3 },
    ];
    expect(listed(text, { on: '2026-12-01', weather: station({ nights }), only: ['froze'] })).toEqual([
      '7 warning froze A26.1',
    ]);
  });

  test('ten years without a frost: no cover is asked for', () => {
    expect(listed(text, { on: '2026-12-01', only: ['frost-cover-missing'] })).toEqual([
      '7 warning frost-cover-missing A26.1',
    ]);
    expect(
      listed(text, { on: '2026-12-01', weather: station({ frostFree: () => true }), only: ['frost-cover-missing'] }),
    ).toEqual([]);
  });

  test('its last frost, passed with the certainty asked for, stands over the written one', () => {
    const moved = `${text}2027-04-20  move  A26.2  to yard\n`;
    const frostDates = () => (edge: 'last-frost' | 'first-frost', certain: number) =>
      edge === 'last-frost' && certain === 0.8 ? { month: 4, day: 19 } : undefined;
    const only = ['frost-cover-missing'] as const;
    expect(listed(moved, { on: '2027-05-01', only })).toEqual([
      '7 warning frost-cover-missing A26.1',
      '10 warning frost-cover-missing A26.2',
    ]);
    expect(listed(moved, { on: '2027-05-01', weather: station({ frostDates }), only })).toEqual([
      '7 warning frost-cover-missing A26.1',
    ]);
  });
});

describe('on which line a finding stands', () => {
  test('that of the lot, the batch, the graft; of several facts the graft’s if it wrote one', () => {
    const text = `${nursery}
batch  K27  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame  lot L1  short 20mm  whorls 5
2027-03-01  collect  L1  Pinus parviflora  old  in frame
2027-03-15
graft  K27.1..3  long 30mm
graft  K27.4     long 60mm
graft  K27.5     long 30mm  whorls 2  ripened
`;
    expect(listed(text, { on: '2027-03-20' })).toEqual([
      '5 warning whorls-many K27.1..4',
      '6 warning wood-old K27.1..4',
      '8 warning faces-level K27.1..3',
      '10 warning faces-level K27.5',
    ]);
  });

  test('a slipped or unreadable fact hides the batch’s, and is in no check', () => {
    const text = `${nursery}
batch  K27  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame  cut 5%  whorls 9
2027-03-15
graft  K27.1  cut 400%  whorls 40
graft  K27.2  cut 40
`;
    expect(listed(text, { on: '2027-03-20' })).toEqual(['5 warning whorls-many K27.2']);
  });
});

test('a set of which some were counted has no finding that must know which', () => {
  const text = `${nursery}
place  tent  heated shade wind-break humid
batch  S27  Abies koreana / Abies nordmanniana  side-veneer  in tent  film
2027-01-18  graft  S27 x40
2027-03-10  swell  S27
2027-03-12  open   S27 x20  60%
2027-03-20  untie  S27 x5
2027-04-10  take   S27 x10
2027-04-15  move   S27  to yard
`;
  expect(listed(text, { on: '2027-04-20' })).toEqual([]);
});
