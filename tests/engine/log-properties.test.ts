import fc from 'fast-check';
import { expect, test } from 'vitest';
import { intersect, size, union } from '#grammar/values/intervals.ts';
import { type LogView, readLog } from '#server/engine/engine.ts';
import { batchFigures } from '#server/engine/figures/batch.ts';
import type { BatchHistory } from '#server/engine/model.ts';
import { stageCounts } from '#server/engine/stage.ts';
import { markedOf, setText } from '../support/log.ts';
import { workLine, workLog } from '../support/logs.ts';

const day = 21500; // 2028-11-11: most lines take part, none need to

const historyShown = (history: BatchHistory) => ({
  name: history.batch.name,
  counted: history.batch.counted,
  cohorts: history.cohorts.map((cohort) => ({
    set: setText(cohort),
    numbers: cohort.numbers,
    made: [cohort.made.file, cohort.made.line.text],
    facts: (['cut', 'film', 'in', 'lot'] as const).map((key) => cohort.fact(key)?.entry.line.text),
    pair: [cohort.scion?.text, cohort.stock?.text],
    state: [cohort.swell, cohort.free, cohort.take, cohort.fail?.day, cohort.fail?.cause, cohort.sold, cohort.untied],
    how: [cohort.share, cohort.headback, cohort.undivided, cohort.potted, cohort.counted],
    visits: cohort.visits.map(({ entry, via, day: on, undivided }) => [entry.line.text, via, on, undivided]),
    stays: cohort.stays.map(({ day: on, place, tree, unknown }) => [on, place, tree, unknown]),
  })),
  tallies: history.tallies.map(({ over, verb, count, day: on, cause }) => [over, verb, count, on, cause]),
});

const shown = (view: LogView) => ({
  findings: view.findings().map((finding) => ({
    ...markedOf(view, finding),
    file: finding.entry.file,
    grafts: finding.grafts,
    related: finding.related?.map(({ entry, message }) => [entry.file, entry.line.text, message]),
    mends: finding.mends?.map(({ title }) => title),
  })),
  histories: [...view.batches()].sort().map((batch) => historyShown(view.history(batch))),
});

const files = ['a.graft', 'b.graft', 'years/c.graft'];
const step = fc.oneof(
  {
    weight: 8,
    arbitrary: fc.record({
      kind: fc.constant('edit' as const),
      file: fc.constantFrom(...files),
      from: fc.nat(35),
      to: fc.nat(2),
      lines: fc.array(workLine, { maxLength: 3 }),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({ kind: fc.constant('set' as const), file: fc.constantFrom(...files), text: workLog }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      kind: fc.constant('copy' as const),
      file: fc.constantFrom(...files),
      of: fc.constantFrom(...files),
    }),
  },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('remove' as const), file: fc.constantFrom(...files) }) },
);

test('after any edits the log says what it says read from scratch, and each history it kept still holds', () => {
  fc.assert(
    fc.property(workLog, workLog, fc.array(step, { maxLength: 8 }), (first, second, steps) => {
      const view = readLog(
        [
          { file: 'a.graft', text: first },
          { file: 'b.graft', text: second },
        ],
        { day },
      );
      for (const one of steps) {
        shown(view);
        const text = (file: string) => view.log.document(file)?.text() ?? '';
        if (one.kind === 'set') view.apply(view.log.addFile(one.file, one.text));
        else if (one.kind === 'copy') view.apply(view.log.addFile(one.file, text(one.of)));
        else if (one.kind === 'remove') view.apply(view.log.removeFile(one.file));
        else {
          const range = { start: { line: one.from, character: 0 }, end: { line: one.from + one.to, character: 0 } };
          view.apply(view.log.applyEdit(one.file, range, one.lines.map((line) => `${line}\n`).join('')));
        }
        const fresh = readLog(
          view.log.fileNames.map((file) => ({ file, text: text(file) })),
          { day },
        );
        expect(shown(view)).toEqual(shown(fresh));
      }
    }),
    { numRuns: 150 },
  );
}, 120_000);

test('cohorts are disjoint and cover exactly the grafts made; sums agree with them', () => {
  fc.assert(
    fc.property(workLog, fc.integer({ min: 20735, max: day }), (text, on) => {
      const view = readLog([{ file: 'a.graft', text }], { day: on });
      for (const batch of view.batches()) {
        const history = view.history(batch);
        let all: readonly number[] = [];
        for (const { numbers } of history.cohorts) {
          expect(intersect(all, numbers)).toEqual([]);
          all = union(all, numbers);
        }
        const { grafted, taken, failed, open, early, late } = batchFigures(history, () => 42);
        expect(grafted).toBe(size(all));
        expect(Object.values(stageCounts(history)).reduce((sum, count) => sum + count, 0)).toBe(grafted);
        expect(Math.min(taken, failed, open, early, late)).toBeGreaterThanOrEqual(0);
        expect(taken + failed + open).toBe(grafted);
        expect(early).toBeLessThanOrEqual(taken);
        expect(late).toBeLessThanOrEqual(failed);
        for (const { visits, madeDay } of history.cohorts) {
          expect(visits[0]?.verb).toBe('graft');
          expect(visits.every((visit) => visit.day >= madeDay && visit.day <= on)).toBe(true);
        }
      }
    }),
    { numRuns: 400 },
  );
});

test('messages are one sentence of at most 140 characters, and mends at most 40', () => {
  fc.assert(
    fc.property(workLog, (text) => {
      const view = readLog([{ file: 'a.graft', text }], { day });
      for (const { message, mends, entry, span } of view.findings()) {
        if (entry.line.problems.some((problem) => problem.message === message)) continue;
        expect(message.length).toBeLessThanOrEqual(140);
        expect(message).toMatch(/[.?]$/);
        for (const { title } of mends ?? []) expect(title.length).toBeLessThanOrEqual(40);
        expect(span.start).toBeLessThanOrEqual(span.end);
        expect(span.end).toBeLessThanOrEqual(entry.line.text.length);
      }
    }),
    { numRuns: 200 },
  );
});
