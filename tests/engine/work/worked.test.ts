import { describe, expect, test } from 'vitest';
import { firstLines, linesOf, overdueIn, workIn, workLines } from '../../support/work.ts';

/*
 * Six histories worked out by hand from the rules of the trade; windows and shares below are the hand's, what stands
 * beside them was held against the same rules. An invented nursery.
 */

const site = 'site    Drumlin-Lane  lat 47.90  lon 8.10  tz Europe/Berlin';

describe('a healthy autumn batch', () => {
  const log = `
${site}
place   frame   frost-free shade wind-break  capacity 400
place   fridge
2026-10-01  collect L1  Pinus parviflora 'Kokonoe'  x24  wood ripened  unpruned 1y  in fridge
batch   A1  Pinus parviflora 'Kokonoe' / Pinus thunbergii  side-veneer  lot L1  in frame  film 38mm
2026-10-10  graft   A1.1..20  cut 40%  long 30mm  short 8mm  scion 5mm x 90mm  whorls 2
2026-11-14  reading frame  min 1.5C
2027-01-16  reading frame  min 0.4C
2027-03-22  swell   A1.1..18
2027-03-24  open    A1.1..18  10%
2027-04-05  open    A1.1..18  20%
2027-04-17  open    A1.1..18  30%
2027-04-20  fail    A1.19,20  dried
2027-04-29  open    A1.1..18  35%
2027-05-11  open    A1.1..18  45%
2027-05-20  free    A1.1..17
2027-05-24  open    A1.18  55%
2027-06-01  free    A1.18
2027-07-05  take    A1.1..18
`;

  test('made: a look 28 to 42 days after the reading, then watching for the buds', () => {
    expect(workLines(firstLines(log, 8), '2027-02-01')).toEqual([
      'A1.1..20 look 2027-02-13..2027-02-27 later',
      'A1.1..20 watch 2027-03-01..2027-05-15 later',
    ]);
  });

  test('opening: the next step for those that move, judging for those left behind', () => {
    expect(workLines(firstLines(log, 11), '2027-04-14')).toEqual([
      'A1.19,20 watch 2027-03-01..2027-05-15 due',
      'A1.1..18 open 2027-04-15..2027-04-19 soon to 25..30 %',
      'A1.19,20 look 2027-05-03..2027-05-17 later',
      'A1.19,20 judge 2027-05-03..2027-05-31 later',
    ]);
    expect(workLines(firstLines(log, 13), '2027-04-20')).toEqual([
      'A1.1..18 open 2027-04-27..2027-05-01 soon to 35..40 %',
    ]);
  });

  test('taken: tie, head back by a third, untie, look again after a year', () => {
    expect(workLines(log, '2027-07-10')).toEqual([
      'A1.1..18 headback 2027-07-05..2028-03-31 due to 33..50 %',
      'A1.1..18 tie 2027-08-02..2027-08-16 later',
      'A1.1..18 untie 2027-10-01..2028-09-30 later',
      'A1.1..18 again 2028-07-04..2028-08-03 later',
    ]);
    expect(workIn(log, '2027-07-10').find(({ what }) => what === 'headback')?.why).toBe('taken 5 Jul: a third off');
  });

  test('nothing is ever told as late', () => {
    for (let lines = 6; lines <= 19; lines++) {
      const text = firstLines(log, lines);
      const day = text.split('\n').at(-1)?.slice(0, 10) as string;
      expect(overdueIn(text, day)).toEqual([]);
    }
    expect(overdueIn(log, '2029-01-01')).toEqual([]);
  });
});

describe('slips at the bench', () => {
  const log = `
${site}
place   bench   frost-free shade wind-break
tree    T3  Pinus sylvestris  in bench
batch   B2  Pinus sylvestris 'Watereri' / Pinus sylvestris  side  onto T3  film 38mm
2027-03-15  graft   B2.1   cut 40%  stock 12mm  long 32mm  short 9mm   scion 5mm x 80mm  whorls 2  under  out 2cm
2027-03-15  graft   B2.2   cut 20%  stock 12mm  long 32mm  short 9mm   scion 5mm x 80mm  whorls 2  under
2027-03-15  graft   B2.3   cut 7mm  stock 12mm  long 32mm  short 9mm   scion 5mm x 80mm  whorls 2  left
2027-03-15  graft   B2.4   cut 35%  stock 12mm  long 32mm  short 9mm   scion 5mm x 80mm  whorls 4  right
2027-03-15  graft   B2.5   cut 40%  stock 12mm  long 32mm  short 9mm   scion 5mm x 80mm  whorls 2  top
2027-03-15  graft   B2.6   cut 40%  stock 12mm  long 30mm  short 20mm  scion 5mm x 80mm  whorls 2  left
2027-03-15  graft   B2.7   cut 40%  stock 12mm  long 12mm  short 4mm   scion 5mm x 80mm  whorls 2  left
2027-03-15  graft   B2.8   cut 40%  stock 12mm  long 32mm  short 9mm   scion 5mm x 80mm  whorls 2  under  reset
2027-03-15  graft   B2.9   cut 50%  stock 12mm  long 32mm  short 9mm   scion 5mm x 80mm  whorls 1  left  out 5cm
2027-03-15  graft   B2.10  cut 30%  stock 12mm  long 25mm  short 10mm  scion 5mm x 80mm  whorls 2  right
`;
  test('looking late is listed, and never a finding; ten lines are one piece of work', () => {
    expect(workLines(log, '2027-04-06')).toEqual([
      'B2.1..10 look 2027-03-22..2027-03-29 overdue',
      'B2.1..10 watch 2027-04-05..2027-05-14 due',
    ]);
    expect(overdueIn(log, '2027-04-06')).toEqual([]);
    const [look] = workIn(log, '2027-04-06');
    expect([look?.waits, look?.count, look?.place]).toEqual([true, 10, 'bench']);
    expect(linesOf(log, '2027-04-06')).toEqual(['B2.1..10 look 14', 'B2.1..10 watch 14']);
  });
});

describe('wraps opened wrongly', () => {
  const log = `
${site}
place   frame   frost-free shade wind-break
batch   C3  Picea pungens 'Koster' / Picea abies  side-veneer  in frame  film 38mm
2026-10-20  graft   C3.1..30   cut 35%  long 28mm  short 8mm  scion 4mm x 80mm  whorls 2
2027-03-02  open    C3.1..10   5%
2027-04-02  swell   C3.1..30
2027-04-03  open    C3.11..20  30%
2027-04-05  open    C3.21..30  10%
2027-04-11  open    C3.21..30  20%
2027-04-21  open    C3.21..30  30%
2027-04-22  open    C3.1..10   15%
2027-04-22  open    C3.11..20  25%
`;
  test('the share stands where it was, and an impossible line still was a visit', () => {
    expect(workLines(log, '2027-05-03')).toEqual([
      'C3.21..30 open 2027-05-01..2027-05-05 due to 35..40 %',
      'C3.1..10 open 2027-05-02..2027-05-06 due to 20..25 %',
      'C3.11..20 open 2027-05-02..2027-05-06 due to 35..40 %',
    ]);
    expect(overdueIn(log, '2027-05-03')).toEqual([]);
  });
});

describe('frost under a frost-free roof, and out too early', () => {
  const log = `
${site}
place   tunnel  frost-free shade wind-break
place   yard    shade wind-break
batch   D4  Picea omorika 'Pendula' / Picea abies  side-veneer  in tunnel  film 38mm
2026-11-05  graft   D4.1..60  cut 40%  long 28mm  short 8mm  scion 5mm x 80mm  whorls 2
2027-01-12  reading tunnel  min -3.2C
2027-02-20  fail    D4.41..54  frozen
2027-03-20  move    D4.1..10  to yard
2027-04-03  reading yard  min -0.5C
2027-04-12  swell   D4.11..40,55..60
2027-04-14  open    D4.11..40,55..60  10%
`;
  test('cover is overdue from the day they were moved, and said by another finding', () => {
    expect(workLines(log, '2027-04-20')).toEqual([
      'D4.1..10 watch 2027-03-01..2027-05-15 due',
      'D4.1..10 cover 2027-03-20..2027-03-20 overdue',
      'D4.11..40,55..60 open 2027-04-24..2027-04-28 soon to 15..20 %',
      'D4.1..10 look 2027-05-12..2027-05-26 later',
      'D4.1..10 judge 2027-05-24..2027-06-21 later',
    ]);
    expect(overdueIn(log, '2027-04-20')).toEqual([]);
    const cover = workIn(log, '2027-04-20').find(({ what }) => what === 'cover');
    expect([cover?.waits, cover?.place, cover?.why]).toEqual([
      false,
      'yard',
      'moved 20 Mar: without frost cover since',
    ]);
  });

  test('the morning after a freezing night', () => {
    expect(workLines(firstLines(log, 6), '2027-01-12')).toEqual([
      'D4.1..60 look 2027-01-13..2027-01-13 soon',
      'D4.1..60 watch 2027-03-01..2027-05-15 later',
    ]);
  });
});

describe('maples in summer and buds in the field', () => {
  const log = `
${site}
place   house   frost-free shade wind-break
place   field
batch   E5  Acer palmatum 'Shishigashira' / Acer palmatum  side-veneer  in house  film 25mm
2026-07-20  graft   E5.1..40  long 20mm  scion 3mm x 70mm  wood ripened
batch   F5  Acer platanoides 'Globosum' / Acer platanoides  chip-bud  in field  film 25mm
2026-08-18  graft   F5.1..50
2026-08-24  swell   E5.1..36
2026-08-26  open    E5.1..36  10%
2026-09-05  open    E5.1..36  20%
2026-09-16  free    E5.1..34
2026-09-20  fail    E5.35..40  rotted
2026-09-22  take    F5.1..46
2026-09-22  untie   F5.1..46
2026-09-22  fail    F5.47..50  dried
2026-10-20  take    E5.1..34
2027-03-01  headback F5.1..46  100%
`;
  test('heading back whole or in two, untying, suckers after the buds were cut back', () => {
    expect(workLines(log, '2027-03-05')).toEqual([
      'E5.1..34 headback 2026-10-20..2027-03-31 due to 50..100 %',
      'E5.1..34 untie 2026-10-28..2027-06-30 due',
      'E5.1..34 tie 2027-04-15..2027-04-29 later',
      'E5.1..34 again 2027-10-20..2027-11-19 later',
      'F5.1..46 suckers 2027-03-15..2027-03-29 later',
      'F5.1..46 again 2027-09-22..2027-10-22 later',
    ]);
    expect(workIn(log, '2027-03-05')[0]?.why).toBe('taken 20 Oct 2026: whole or in two');
    expect(overdueIn(log, '2027-03-05')).toEqual([]);
  });
});

describe('mould, dry scions, a missed visit', () => {
  const log = `
${site}
place   frame   frost-free shade wind-break
batch   G6  Juniperus chinensis 'Itoigawa' / Juniperus chinensis  side-veneer  in frame  film 38mm
2026-10-15  graft   G6.1..24   cut 40%  long 25mm  short 8mm  scion 4mm x 70mm
2027-03-28  swell   G6.1..24
2027-03-30  open    G6.1..24   10%
2027-04-04  check   G6.1..6    mould
2027-04-04  open    G6.1..6    20%
2027-04-10  open    G6.7..24   20%
2027-04-13  check   G6.20..24  dry
2027-04-14  rewrap  G6.20..24  film 38mm
2027-04-20  check   G6.20..24  plump
2027-04-24  open    G6.7..19   30%
`;
  test('aired grafts go on, dry ones rest', () => {
    expect(workLines(firstLines(log, 11), '2027-04-16')).toEqual([
      'G6.1..6 look 2027-04-07..2027-04-11 overdue',
      'G6.1..6 open 2027-04-14..2027-04-18 due to 25..30 %',
      'G6.20..24 look 2027-04-16..2027-04-20 due',
      'G6.7..19 open 2027-04-20..2027-04-24 soon to 25..30 %',
    ]);
    expect(overdueIn(firstLines(log, 11), '2027-04-16')).toEqual([]);
  });

  test('a missed visit never doubles a step, and each set is told on its own last line', () => {
    expect(workLines(log, '2027-05-12')).toEqual([
      'G6.1..6 look 2027-04-07..2027-04-11 overdue',
      'G6.1..6 open 2027-04-14..2027-04-18 overdue to 25..30 %',
      'G6.20..24 open 2027-04-24..2027-04-28 overdue to 5..10 %',
      'G6.7..19 open 2027-05-04..2027-05-08 overdue to 35..40 %',
    ]);
    expect(overdueIn(log, '2027-05-12')).toEqual([
      '8 information G6.1..6: a step was due by 18 Apr, 24 days ago; one step only, to 25–30 %.',
      '12 information G6.20..24: a step was due by 28 Apr, 14 days ago; one step only, to 5–10 %.',
      '13 information G6.7..19: a step was due by 8 May, 4 days ago; one step only, to 35–40 %.',
    ]);
  });
});
