import fc from 'fast-check';
import { expect, test } from 'vitest';
import { isoDay } from '#grammar/values/date.ts';
import { contains, intersect, size, subtract } from '#grammar/values/intervals.ts';
import { checkEnv } from '#server/engine/checks/env.ts';
import { readLog } from '#server/engine/engine.ts';
import { nextWork } from '#server/engine/work/next.ts';
import { overdueFindings } from '#server/engine/work/overdue.ts';
import { workLog } from '../../support/logs.ts';

/* Logs that do all sorts of things in all sorts of order, right ones and impossible ones, on any day, at any latitude. */

const own = fc.constantFrom(
  '',
  'practice any work look after check wait 5d..',
  'practice K26.2..5 work untie after take,free wait 3..9d urgent',
  'practice needle open-step ..15%\npractice needle open-every 7d..\npractice needle open-over none',
  'practice any work open after swell wait none',
  'practice any growth none\npractice any first-frost aug-20',
  'practice any needs frost-free\npractice K26 headback-step 25..40%',
  'practice any work tie after word wait jan-01..feb-29 within oct..mar till jun-30',
  'accept overdue K26.1..3',
);
const lat = fc.constantFrom('', 'lat 47.9', 'lat -41.3', 'lat 12', 'lat 66');
const pair = fc.constantFrom(
  'Pinus mugo / Pinus sylvestris',
  'Acer palmatum / Acer palmatum',
  'Larix decidua / L. decidua',
);
const method = fc.constantFrom('side-veneer', 'cleft', 'chip-bud', 't-bud', 'approach', 'thread', 'side', '');
const days = fc.integer({ min: 20700, max: 22600 });
const anyLog = fc.tuple(workLog, own, lat, pair, method).map(([log, rules, where, plants, how]) =>
  [where && `site Hill ${where}`, rules, log]
    .filter((part) => part !== '')
    .join('\n')
    .replaceAll('Pinus mugo / Pinus sylvestris', plants)
    .replaceAll('side-veneer', how),
);

function everything(text: string, day: number) {
  const view = readLog([{ file: 'a.graft', text }], { day });
  const env = checkEnv(view.log, day);
  return [...view.batches()].map((batch) => {
    const history = view.history(batch);
    const work = nextWork(history, env);
    return { history, work, overdue: overdueFindings(work, history, env) };
  });
}

test('a window, its state, and the living, whatever the log says', () => {
  fc.assert(
    fc.property(anyLog, days, (log, day) => {
      for (const { history, work } of everything(log, day))
        for (const item of work) {
          const { from, by, state, count, to, why, entry } = item;
          expect(Number.isInteger(from) && Number.isInteger(by)).toBe(true);
          expect(from).toBeLessThanOrEqual(by);
          expect(state).toBe(day > by ? 'overdue' : day >= from ? 'due' : from - day <= 7 ? 'soon' : 'later');
          expect(count).toBeGreaterThan(0);
          expect(count).toBeLessThanOrEqual(size(item.numbers));
          expect(item.minutes).toBeGreaterThanOrEqual(0);
          expect(item.minutes).toBeLessThan(Number.POSITIVE_INFINITY);
          expect(to === null).toBe(item.what !== 'open' && item.what !== 'headback');
          if (to) {
            expect(to.low).toBeLessThanOrEqual(to.high);
            expect(to.low).toBeGreaterThan(0);
            expect(to.high).toBeLessThanOrEqual(1);
          }
          expect(why.length).toBeLessThanOrEqual(100);
          expect(why).not.toMatch(/undefined|NaN|Infinity/);
          expect((entry.day ?? 0) <= day).toBe(true);
          for (const cohort of history.cohorts) {
            const some = intersect(cohort.numbers, item.numbers);
            if (cohort.fail || cohort.sold !== undefined) expect(some).toEqual([]);
            if (cohort.undivided && some.length > 0) expect(['look', 'cover', 'shade']).toContain(item.what);
          }
        }
    }),
    { numRuns: 400 },
  );
});

test('joining loses no graft and doubles none: each has a kind of work once, but cover for two reasons', () => {
  fc.assert(
    fc.property(anyLog, days, (log, day) => {
      for (const { work } of everything(log, day)) {
        for (const { pieces, numbers } of work) {
          const together = pieces.flatMap(({ cohort }) => cohort.numbers);
          expect(pieces.reduce((sum, { cohort }) => sum + size(cohort.numbers), 0)).toBe(size(numbers));
          for (let i = 0; i < together.length; i += 2)
            expect(subtract([together[i] as number, together[i + 1] as number], numbers)).toEqual([]);
        }
        const once = work.filter(({ what }) => what !== 'cover');
        for (const [i, item] of once.entries())
          for (const other of once.slice(i + 1))
            if (item.what === other.what) expect(intersect(item.numbers, other.numbers)).toEqual([]);
      }
    }),
    { numRuns: 300 },
  );
});

test('work on one set does not change what is due for another but by being a word, or the batch’s first swelling', () => {
  const head = `place frame frost-free shade wind-break
batch K26 Pinus mugo / P. mugo side-veneer film 38mm in frame
2026-10-09 graft K26.1..12
2027-03-20 swell K26
2027-03-22 open K26 10%
`;
  const line = fc
    .tuple(
      fc.constantFrom('open', 'check', 'rewrap', 'free', 'untie', 'fail', 'headback'),
      fc.integer({ min: 1, max: 6 }),
      fc.constantFrom('2027-04-03', '2027-04-15', '2027-05-01'),
      fc.constantFrom('', '20%', '40%', 'dry', 'mould', 'green'),
    )
    .map(([verb, number, date, fact]) => `${date} ${verb} K26.${number} ${fact}`);
  fc.assert(
    fc.property(fc.array(line, { maxLength: 6 }), fc.integer({ min: 20920, max: 21100 }), (lines, day) => {
      const due = (text: string) =>
        everything(text, day)
          .flatMap(({ work }) => work)
          .filter(({ what, numbers }) => what !== 'look' && what !== 'tie' && contains(numbers, 9))
          .map(({ what, from, by, to }) => [what, from, by, to]);
      expect(due(`${head}${lines.join('\n')}`)).toEqual(due(head));
    }),
    { numRuns: 150 },
  );
});

test('what is told as late can’t wait, is late, and says so in one sentence', () => {
  fc.assert(
    fc.property(anyLog, days, (log, day) => {
      for (const { work, overdue } of everything(log, day)) {
        for (const { message, severity, span, entry } of overdue) {
          expect(severity).toBe('information');
          expect(message.length).toBeLessThanOrEqual(140);
          expect(message).toMatch(/ was due by .+ (1 day|\d+ days) ago; .+[.?]$/);
          expect(span.end).toBeLessThanOrEqual(entry.line.text.length);
          expect(span.end).toBeGreaterThan(span.start);
        }
        const late = work.filter((item) => !item.waits && item.state === 'overdue');
        expect(overdue.length).toBeLessThanOrEqual(late.length);
        for (const { grafts } of overdue)
          expect(late.some((item) => item.grafts === grafts || log.includes('accept overdue'))).toBe(true);
      }
    }),
    { numRuns: 300 },
  );
});

test('the list is the same whichever order files are read in', () => {
  fc.assert(
    fc.property(anyLog, anyLog, days, (a, b, day) => {
      const shown = (files: { file: string; text: string }[]) => {
        const view = readLog(files, { day });
        const env = checkEnv(view.log, day);
        return [...view.batches()]
          .sort()
          .flatMap((batch) => nextWork(view.history(batch), env))
          .map((item) => [
            item.grafts,
            item.what,
            isoDay(item.from),
            isoDay(item.by),
            item.count,
            item.entry.line.text,
          ]);
      };
      const files = [
        { file: 'a.graft', text: a },
        { file: 'b.graft', text: b },
      ];
      expect(shown(files)).toEqual(shown(files.toReversed()));
    }),
    { numRuns: 60 },
  );
});
