import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readLine } from '#grammar/line.ts';
import { isoDay, parseIso } from '#grammar/values/date.ts';
import type { Entry, Work } from '#server/engine/model.ts';
import { practiceOf, type Subject } from '#server/engine/practice.ts';
import {
  type FrostDates,
  growthFrom,
  inStretches,
  nextAfter,
  placeYear,
  runningOn,
  seasonOf,
  stretchesOf,
  stretchOf,
  windowAfter,
} from '#server/engine/year.ts';

const day = (iso: string) => parseIso(iso) as number;
const north = 47.9;
const south = -41.3;

/** A log's own practice lines over the shipped ones. */
const practice = (...lines: string[]) =>
  practiceOf(lines.map((text, rank): Entry => ({ line: readLine(text), file: 'own.graft', rank, minute: 0 })));

function subject(on: string, more: Partial<Subject> & { readonly at?: number } = {}): Subject {
  const { at = north, ...rest } = more;
  return { day: day(on), made: day(on), method: 'side-veneer', group: 'needle', lat: () => at, potted: true, ...rest };
}

function due(
  what: Work,
  event: string,
  on: string,
  more: Partial<Subject> & { readonly at?: number } = {},
  frostDates?: FrostDates,
  rules = practice(),
): string {
  const asked = subject(on, more);
  const rule = rules.work(what, event, asked)?.row;
  const window = rule && windowAfter(asked.day, rule, placeYear(rules, asked, frostDates));
  return window ? `${isoDay(window.from)}..${isoDay(window.by)}` : 'none';
}

describe('seasons', () => {
  test('by the calendar, turned in the south, none in the tropics', () => {
    const on = (iso: string, lat?: number) => seasonOf(day(iso), lat);
    expect([on('2027-03-01'), on('2027-06-01'), on('2027-09-01'), on('2027-12-01')]).toEqual([
      'spring',
      'summer',
      'autumn',
      'winter',
    ]);
    expect([on('2027-02-28', north), on('2027-02-28', south)]).toEqual(['winter', 'summer']);
    expect([on('2027-09-01', south), on('2027-12-31', south), on('2027-03-01', south)]).toEqual([
      'spring',
      'summer',
      'autumn',
    ]);
    expect([on('2027-09-01', 23.5), on('2027-09-01', -23.5), on('2027-09-01', 23.6)]).toEqual([
      undefined,
      undefined,
      'autumn',
    ]);
  });

  test('a season as a stretch is the season of its days', () => {
    fc.assert(
      fc.property(fc.integer({ min: -30000, max: 60000 }), fc.constantFrom(north, south), (on, lat) => {
        const year = placeYear(practice(), subject('2027-01-01', { at: lat }));
        const season = seasonOf(on, lat);
        for (const name of ['spring', 'summer', 'autumn', 'winter'] as const)
          expect(inStretches(on, stretchOf({ season: name }, { shipped: true }, year))).toBe(name === season);
      }),
    );
  });
});

describe('the edges of the year', () => {
  const edges = (at: number, ...lines: string[]) => {
    const rules = practice(...lines);
    const { growth, frost } = placeYear(rules, subject('2027-01-01', { at }));
    const text = (of: { month: number; day: number } | undefined) => (of ? `${of.month}-${of.day}` : 'none');
    return {
      growth: growth.map(({ from, to }) => `${text(from)}..${text(to)}`),
      last: text(frost('last-frost', 0.8)),
      first: text(frost('first-frost', 0.9)),
    };
  };

  test('15 May from 40 degrees on, 30 April nearer the equator', () => {
    expect(edges(47.9)).toEqual({ growth: ['4-15..9-30'], last: '5-15', first: '10-1' });
    expect(edges(40).last).toBe('5-15');
    expect(edges(39.9).last).toBe('4-30');
  });

  test('months of the shipped file turn by six in the south, the last day of a month stays the last', () => {
    expect(edges(-41.3)).toEqual({ growth: ['10-15..3-31'], last: '11-15', first: '4-1' });
    expect(edges(-35).last).toBe('10-31');
  });

  test('what stands in the log is taken as written', () => {
    expect(edges(-41.3, 'practice any growth oct-01..apr-15', 'practice any lat 40.. last-frost nov-10')).toMatchObject(
      {
        growth: ['10-1..4-15'],
        last: '11-10',
      },
    );
  });

  test('a station stands over the written day, for the certainty asked', () => {
    const asked: [string, number][] = [];
    const station: FrostDates = (edge, certain) => {
      asked.push([edge, certain]);
      return edge === 'last-frost' ? { month: 5, day: 24 } : undefined;
    };
    const { frost } = placeYear(practice(), subject('2027-01-01'), station);
    expect(frost('last-frost', 0.9)).toEqual({ month: 5, day: 24 });
    expect(frost('first-frost', 0.9)).toEqual({ month: 10, day: 1 });
    expect(frost('last-frost', undefined)).toEqual({ month: 5, day: 15 });
    expect(asked).toEqual([
      ['last-frost', 0.9],
      ['first-frost', 0.9],
    ]);
  });
});

describe('windows after an event', () => {
  test('days on', () => {
    expect(due('open', 'swell', '2027-03-22')).toBe('2027-03-22..2027-03-29');
    expect(due('look', 'frost', '2027-01-12')).toBe('2027-01-13..2027-01-13');
    expect(due('again', 'take', '2027-07-05')).toBe('2028-07-04..2028-08-03');
  });

  test('months by the calendar', () => {
    expect(due('again', 'again', '2028-02-29')).toBe('2032-02-29..2032-03-29');
    expect(due('again', 'again', '2027-01-31')).toBe('2031-01-31..2031-02-28');
  });

  test('days of the year: the first to begin after the event', () => {
    expect(due('watch', 'graft', '2026-10-10')).toBe('2027-03-01..2027-05-15');
    expect(due('watch', 'graft', '2027-01-18')).toBe('2027-03-01..2027-05-15');
    // the year in which it grew is over on 1 October
    expect(due('untie', 'growth', '2027-03-22')).toBe('2027-10-01..2028-09-30');
    expect(due('untie', 'growth', '2027-10-01')).toBe('2028-10-01..2029-09-30');
  });

  test('a span already running is taken from that day on, one of a whole year begins after', () => {
    const bud = { method: 'chip-bud', group: 'broadleaf' } as const;
    expect(due('headback', 'take', '2027-02-10', bud)).toBe('2027-02-10..2027-03-31');
    expect(due('headback', 'take', '2026-09-22', bud)).toBe('2027-02-01..2027-03-31');
    expect(due('headback', 'take', '2027-03-31', bud)).toBe('2027-03-31..2027-03-31');
    expect(due('headback', 'take', '2027-04-01', bud)).toBe('2028-02-01..2028-03-31');
    expect(due('untie', 'growth', '2027-11-01')).toBe('2028-10-01..2029-09-30');
  });

  test('till: the first such day on or after the end of the window', () => {
    expect(due('headback', 'take', '2027-07-05')).toBe('2027-07-05..2028-03-31');
    expect(due('headback', 'take', '2026-10-20', { group: 'broadleaf' })).toBe('2026-10-20..2027-03-31');
    // 2 December + 120 days is 1 April: the next 31 March is a year on
    expect(due('headback', 'take', '2026-12-02')).toBe('2026-12-02..2028-03-31');
    expect(due('headback', 'take', '2026-12-01')).toBe('2026-12-01..2027-03-31');
    expect(due('untie', 'free', '2026-09-16', { group: 'broadleaf' })).toBe('2026-10-28..2027-06-30');
  });

  test('within: a start outside waits with its width, an end outside is cut', () => {
    expect(due('tie', 'word', '2027-07-05')).toBe('2027-08-02..2027-08-16');
    expect(due('tie', 'word', '2027-09-10')).toBe('2028-04-15..2028-04-29');
    expect(due('tie', 'word', '2027-08-25')).toBe('2027-09-22..2027-09-30');
    expect(due('watch', 'graft', '2027-08-10')).toBe('2027-08-31..2027-09-30');
  });

  test('suckers: a first one waits for the season, a repeat is dropped', () => {
    const asked = subject('2027-07-20', { method: 'chip-bud', group: 'broadleaf' });
    const rule = practice().work('suckers', 'suckers', asked)?.row;
    const year = placeYear(practice(), asked);
    expect(rule && windowAfter(asked.day, rule, year, 'drop')).toBeUndefined();
    expect(due('suckers', 'headback', '2026-09-20', { method: 'chip-bud', group: 'broadleaf' })).toBe(
      '2027-03-01..2027-03-15',
    );
  });

  test('first-frost ends the span; a station whose frost comes before the span makes it that day', () => {
    expect(due('cover', 'graft', '2027-07-01')).toBe('2027-09-01..2027-10-01');
    const on =
      (month: number, date: number): FrostDates =>
      (edge) =>
        edge === 'first-frost' ? { month, day: date } : undefined;
    expect(due('cover', 'graft', '2027-07-01', {}, on(9, 20))).toBe('2027-09-01..2027-09-20');
    expect(due('cover', 'graft', '2027-07-01', {}, on(8, 24))).toBe('2027-08-24..2027-08-24');
  });

  test('a southern log reads the shipped lines six months on, its own as written', () => {
    expect(due('watch', 'graft', '2027-04-10', { at: south })).toBe('2027-09-01..2027-11-15');
    expect(due('cover', 'graft', '2027-01-05', { at: south })).toBe('2027-03-01..2027-04-01');
    expect(due('headback', 'take', '2027-01-05', { at: south })).toBe('2027-01-05..2027-09-30');
    const own = practice('practice needle detached made autumn,winter work watch after graft wait aug-20..oct-31');
    expect(due('watch', 'graft', '2027-04-10', { at: south }, undefined, own)).toBe('2027-08-20..2027-10-31');
  });

  test('in the tropics work with a season is not listed, days on are', () => {
    expect(due('watch', 'graft', '2026-10-10', { at: 20 })).toBe('none');
    expect(due('headback', 'take', '2027-07-05', { at: -23.5 })).toBe('none');
    expect(due('tie', 'word', '2027-07-05', { at: 0 })).toBe('none');
    expect(due('open', 'swell', '2027-03-22', { at: 20 })).toBe('2027-03-22..2027-03-29');
  });

  test('a wait with an open end is due on its first day', () => {
    const own = practice(
      'practice any work look after word wait 30d..',
      'practice any work judge after first-open wait ..60d',
    );
    expect(due('look', 'word', '2027-01-01', { made: day('2026-10-01') }, undefined, own)).toBe(
      '2027-01-31..2027-01-31',
    );
    expect(due('judge', 'first-open', '2027-01-01', {}, undefined, own)).toBe('2027-01-01..2027-03-02');
  });

  test('from never lies after by, whatever the line and the day', () => {
    const rules = practice();
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 60000 }),
        fc.constantFrom(60.2, 47.9, 39, 23.6, 10, -35, -41.3),
        fc.constantFrom(...rules.works),
        fc.constantFrom('needle' as const, 'shedding' as const, 'broadleaf' as const),
        fc.constantFrom('side-veneer' as const, 'chip-bud' as const, 'thread' as const, 'cleft' as const),
        (on, at, { what, event }, group, method) => {
          const asked: Subject = { day: on, made: on, group, method, potted: true, lat: () => at };
          const rule = rules.work(what, event, asked)?.row;
          if (!rule) return;
          const window = windowAfter(on, rule, placeYear(rules, asked));
          if (Math.abs(at) > 23.5) expect(window).toBeDefined();
          if (!window) return;
          expect(window.from).toBeLessThanOrEqual(window.by);
          expect(window.from).toBeGreaterThanOrEqual(on);
          if (rule.within)
            for (const end of [window.from, window.by])
              expect(inStretches(end, stretchesOf(rule.within, { shipped: true }, placeYear(rules, asked)))).toBe(true);
        },
      ),
      { numRuns: 2000 },
    );
  });
});

describe('growth as an event', () => {
  const from = (iso: string, at = north) => {
    const found = growthFrom(day(iso), placeYear(practice(), subject(iso, { at })));
    return found === undefined ? 'none' : isoDay(found);
  };
  test('the growth running with 60 days left, else the next', () => {
    expect(from('2026-10-10')).toBe('2027-04-15');
    expect(from('2027-03-15')).toBe('2027-04-15');
    expect(from('2027-05-02')).toBe('2027-05-02');
    expect(from('2027-08-01')).toBe('2027-08-01');
    expect(from('2027-08-02')).toBe('2028-04-15');
    expect(from('2027-12-01', south)).toBe('2027-12-01');
    expect(from('2027-05-01', 10)).toBe('none');
  });
});

test('29 February is the 28th in other years', () => {
  const leap = [{ from: { month: 2, day: 29 }, to: { month: 3, day: 5 } }];
  expect(runningOn(day('2027-02-28'), leap)).toEqual({ from: day('2027-02-28'), by: day('2027-03-05') });
  expect(runningOn(day('2028-02-28'), leap)).toBeUndefined();
  expect(nextAfter(day('2027-03-06'), leap)?.from).toBe(day('2028-02-29'));
});
