import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { isoDay, parseIso } from '#grammar/values/date.ts';
import type { Batch, Entry, WorkItem } from '#server/engine/model.ts';
import { levelWork } from '#server/engine/work/level.ts';
import { workIn } from '../../support/work.ts';

const day = (iso: string) => parseIso(iso) as number;
/** A Thursday: four days of its week are left. */
const today = day('2029-06-21');

function piece(name: string, from: string, by: string, count: number, minutes: number): WorkItem {
  const batch = { key: name, name, counted: true, fact: () => undefined } satisfies Batch;
  return {
    what: 'open',
    batch,
    numbers: [1, count],
    grafts: name,
    count,
    place: null,
    hand: null,
    from: day(from),
    by: day(by),
    state: 'due',
    waits: false,
    to: null,
    entry: {} as Entry,
    why: '',
    minutes,
  };
}

function told(work: readonly WorkItem[], hours: number, on = today) {
  const { weeks, short, shortage } = levelWork(work, { day: on, hours });
  return {
    weeks: weeks.map(
      ({ from, to, tasks, minutes }) =>
        `${isoDay(from)}..${isoDay(to)} ${Math.round(minutes)}: ${tasks.map((task) => `${task.item.grafts} x${task.count} ${Math.round(task.minutes)}`).join(', ')}`,
    ),
    short: short.map((task) => `${task.item.grafts} x${task.count}`),
    shortage: Math.round(shortage * 1000) / 1000,
  };
}

describe('a week for every piece of work', () => {
  test('the earliest deadline first, inside its window', () => {
    const work = [
      piece('late', '2029-06-20', '2029-07-20', 20, 60),
      piece('soon', '2029-06-20', '2029-06-30', 20, 60),
      piece('next', '2029-06-27', '2029-07-01', 20, 60),
    ];
    // two hours a week: this week has four of its seven days left
    expect(told(work, 2)).toEqual({
      weeks: ['2029-06-21..2029-06-24 69: soon x20 60', '2029-06-25..2029-07-01 120: next x20 60, late x20 60'],
      short: [],
      shortage: 0,
    });
  });

  test('what is late already is due this week', () => {
    expect(told([piece('missed', '2029-05-01', '2029-05-05', 10, 30)], 7)).toEqual({
      weeks: ['2029-06-21..2029-06-24 240: missed x10 30'],
      short: [],
      shortage: 0,
    });
  });

  test('a piece is not begun for a scrap of this week where the next one holds all of it', () => {
    expect(told([piece('a', '2029-06-20', '2029-07-10', 100, 100)], 2).weeks).toEqual([
      '2029-06-21..2029-06-24 69: ',
      '2029-06-25..2029-07-01 120: a x100 100',
    ]);
  });

  test('what is larger than a week is spread over the weeks of its window', () => {
    expect(told([piece('big', '2029-06-25', '2029-07-15', 300, 300)], 2)).toEqual({
      weeks: [
        '2029-06-21..2029-06-24 69: ',
        '2029-06-25..2029-07-01 120: big x120 120',
        '2029-07-02..2029-07-08 120: big x120 120',
        '2029-07-09..2029-07-15 120: big x60 60',
      ],
      short: [],
      shortage: 0,
    });
  });

  test('what can’t fit is said, with the shortage', () => {
    const work = [piece('a', '2029-06-25', '2029-07-01', 60, 120), piece('b', '2029-06-25', '2029-07-01', 30, 60)];
    expect(told(work, 2)).toEqual({
      weeks: ['2029-06-21..2029-06-24 69: ', '2029-06-25..2029-07-01 120: a x60 120'],
      short: ['b x30'],
      shortage: 60,
    });
    expect(told(work, 0)).toEqual({
      weeks: ['2029-06-21..2029-06-24 0: ', '2029-06-25..2029-07-01 0: '],
      short: ['a x60', 'b x30'],
      shortage: 180,
    });
    expect(told([], 2)).toEqual({ weeks: [], short: [], shortage: 0 });
  });

  test('minutes are those of the practice lines, for the living', () => {
    const log = `
site     Drumlin-Lane  lat 47.90
place    frame   frost-free shade wind-break
practice needle  task open 1min
batch    K26  Picea abies / P. abies  side-veneer  film 38mm  in frame
2027-01-10  graft K26 x60
2027-02-01  fail  K26 x10
2027-03-20  swell K26
2027-03-21  open  K26 5%
`;
    const work = workIn(log, '2027-03-25').filter(({ what }) => what === 'open');
    expect(work.map(({ grafts, count, minutes }) => [grafts, count, minutes])).toEqual([['K26', 50, 50]]);
    const { weeks, shortage } = levelWork(work, { day: day('2027-03-25'), hours: 0.5 });
    // 31 March to 4 April lies in one week of half an hour
    expect([weeks.at(-1)?.taken, shortage]).toEqual([30, 20]);
  });
});

test('nothing is lost, no week overfilled, every task inside its window', () => {
  const anyPiece = fc.record({
    from: fc.integer({ min: today - 40, max: today + 120 }),
    width: fc.integer({ min: 0, max: 60 }),
    count: fc.integer({ min: 1, max: 400 }),
    each: fc.constantFrom(0, 0.1, 0.2, 0.5, 1, 5),
  });
  fc.assert(
    fc.property(fc.array(anyPiece, { maxLength: 25 }), fc.constantFrom(0, 1, 4, 20, 80), (pieces, hours) => {
      const work = pieces.map(({ from, width, count, each }, i) =>
        piece(`b${i}`, isoDay(from), isoDay(from + width), count, count * each),
      );
      const { weeks, short, shortage } = levelWork(work, { day: today, hours });
      for (const item of work) {
        const given = [...weeks.flatMap(({ tasks }) => tasks), ...short].filter((task) => task.item === item);
        expect(given.reduce((sum, { count }) => sum + count, 0)).toBe(item.count);
      }
      for (const { from, to, minutes, taken, tasks } of weeks) {
        expect(taken).toBeLessThanOrEqual(minutes + 1e-3);
        for (const { item } of tasks) {
          expect(item.from).toBeLessThanOrEqual(to);
          expect(Math.max(item.by, today)).toBeGreaterThanOrEqual(from);
        }
      }
      // work that must lie between two weeks' ends can't be more than those weeks hold, unless it is said to be short
      for (const first of weeks)
        for (const last of weeks) {
          if (last.to < first.from) continue;
          const must = work
            .filter(({ from, by }) => Math.max(from, today) >= first.from && Math.max(by, today) <= last.to)
            .reduce((sum, item) => sum + (item.minutes ?? 0), 0);
          const held = weeks
            .filter(({ from, to }) => from >= first.from && to <= last.to)
            .reduce((sum, { minutes }) => sum + minutes, 0);
          expect(must - held).toBeLessThanOrEqual(shortage + 1e-3);
        }
    }),
    { numRuns: 300 },
  );
});
