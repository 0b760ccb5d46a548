import fc from 'fast-check';
import { expect } from 'vitest';
import { Answers } from '#server/engine/answers.ts';
import { Log } from '#server/engine/log.ts';
import type { Finding } from '#server/engine/model.ts';
import { workLine, workLog } from '../support/logs.ts';

const day = 21500; // 2028-11-11: most lines take part, none need to
const files = ['a.graft', 'b.graft', 'years/c.graft'];
const place = { file: fc.constantFrom(...files), line: fc.nat(35) };
/** Lines that reach far: a place's room, the whole log's practice, what is accepted, a reading, another year's day. */
const farLine = fc.constantFrom(
  'place frame frost-free shade capacity 9',
  'place yard capacity 3',
  'practice any open-every 40d..',
  'practice K26 cut 20..60%',
  'practice any stands 90d after word',
  'accept place-full',
  'accept cut-missing K26',
  'pair Pinus mugo / Pinus sylvestris never',
  'site Drumlin-Lane lat -40',
  '2026-10-09',
  '2027-03-20',
  'reading frame min 9C',
  'collect L7 Pinus mugo in frame at 9C',
);
const lines = fc.array(fc.oneof({ weight: 3, arbitrary: workLine }, { weight: 1, arbitrary: farLine }), {
  maxLength: 3,
});

const step = fc.oneof(
  /** Some lines for some others. */
  { weight: 6, arbitrary: fc.record({ kind: fc.constant('lines' as const), ...place, taken: fc.nat(2), lines }) },
  /** A key or two within a line. */
  {
    weight: 6,
    arbitrary: fc.record({
      kind: fc.constant('keys' as const),
      ...place,
      at: fc.nat(40),
      taken: fc.nat(2),
      typed: fc.constantFrom('', '1', '9', ' ', 'x', '%', '.', 'K26', '\n'),
    }),
  },
  /** Many lines at once, and their undo. */
  {
    weight: 1,
    arbitrary: fc.record({ kind: fc.constant('paste' as const), ...place, text: workLog, undo: fc.boolean() }),
  },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('remove' as const), file: place.file }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('copy' as const), file: place.file, of: place.file }) },
);

const said = (findings: readonly Finding[]) =>
  findings.map(({ entry, span, code, severity, message, grafts }) =>
    [entry.file, entry.line.text, span.start, span.end, code, severity, message, grafts].join(' | '),
  );

/** All that the editor and the terminal show of a log, as text. */
function answersOf(answers: Answers, byFile: (file: string) => readonly string[]): unknown {
  const { log } = answers;
  return {
    byFile: Object.fromEntries([...log.fileNames].sort().map((file) => [file, byFile(file)])),
    findings: said(answers.findings()),
    work: answers.work().map(({ batch, what, from, by, numbers }) => [batch.name, what, from, by, numbers]),
    figures: [...log.names.batches()].sort().map((batch) => answers.of(batch).figures),
  };
}

/** After any edits every answer is the one of the same text read anew. Gives the number of edits tried. */
export function sameAsAnew(runs: number): number {
  let edits = 0;
  fc.assert(
    fc.property(workLog, workLog, fc.array(step, { minLength: 1, maxLength: 12 }), (first, second, steps) => {
      const log = new Log();
      log.addFile('a.graft', first);
      log.addFile('b.graft', second);
      const answers = new Answers(log, day);
      const shown = new Map<string, readonly string[]>();
      const text = (file: string) => log.document(file)?.text() ?? '';
      for (const one of steps) {
        for (const file of answers.changedFiles()) shown.set(file, said(answers.findingsIn(file)));
        edits++;
        if (one.kind === 'remove') answers.apply(log.removeFile(one.file));
        else if (one.kind === 'copy') answers.apply(log.addFile(one.file, text(one.of)));
        else {
          const at = (line: number, character: number) => ({ line, character });
          const before = text(one.file).split('\n').length;
          if (one.kind === 'keys') {
            const range = { start: at(one.line, one.at), end: at(one.line, one.at + one.taken) };
            answers.apply(log.applyEdit(one.file, range, one.typed));
          } else if (one.kind === 'lines') {
            const range = { start: at(one.line, 0), end: at(one.line + one.taken, 0) };
            answers.apply(log.applyEdit(one.file, range, one.lines.map((line) => `${line}\n`).join('')));
          } else {
            const line = Math.min(one.line, before - 1);
            const pasted = `${one.text}\n`;
            answers.apply(log.applyEdit(one.file, { start: at(line, 0), end: at(line, 0) }, pasted));
            const end = at(line + pasted.split('\n').length - 1, 0);
            if (one.undo) answers.apply(log.applyEdit(one.file, { start: at(line, 0), end }, ''));
          }
        }
        for (const file of answers.changedFiles()) shown.set(file, said(answers.findingsIn(file)));
        const anew = new Log();
        for (const file of log.fileNames) anew.addFile(file, text(file));
        const fresh = new Answers(anew, day);
        expect(answersOf(answers, (file) => shown.get(file) ?? [])).toEqual(
          answersOf(fresh, (file) => said(fresh.findingsIn(file))),
        );
      }
    }),
    { numRuns: runs },
  );
  return edits;
}
