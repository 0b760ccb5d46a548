import fc from 'fast-check';
import { expect, test } from 'vitest';
import { parseIso } from '#grammar/values/date.ts';
import { Answers } from '#server/engine/answers.ts';
import { graftsFitting } from '#server/engine/fitting.ts';
import { Log } from '#server/engine/log.ts';
import { nursery } from './support.ts';

/* An edit at a time must come to the same findings as reading the whole log anew. */
const day = parseIso('2028-09-30') as number;
const pool = [
  'batch K26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in shed',
  'batch S27  Abies koreana / Picea abies  side  lot L1',
  'place shed capacity 10',
  'place shed  frost-free',
  'tree T5 Pinus thunbergii in shed',
  '2026-10-09  graft K26.1..12  cut 20%  top',
  '2026-10-10  graft K26.13..20',
  '2027-03-15  graft S27 x4  onto T5',
  '2027-03-16  graft S27 x9  in shed',
  '2027-03-20  swell K26.1..6',
  '2027-03-24  open K26 40%',
  '2027-03-25  open shed 10%',
  '2027-04-01  check shed wet',
  '2027-04-01  check K26 dry mould',
  '2027-05-20  free K26.1..4',
  '2027-06-30  take K26.1..9',
  '2027-07-01  headback K26 100%',
  '2027-09-01  untie K26',
  '2026-12-01  move K26.1..5 to yard',
  '2026-12-01  move T5 to yard',
  '2026-11-20  uncover shed',
  '2026-10-01  cover shed frost-free',
  '2026-11-30  reading shed min -4C max 36C',
  '2026-10-01  collect L1  Abies koreana  soft  in shed  at 9C',
  '2026-10-05  move L1 to yard',
  'practice K26.3 cut none',
  'practice any open-every 40d..',
  'accept cut-shallow K26.1..3',
  'accept froze',
  'pair Abies / Picea never',
  'site Drumlin-Lane lat -40',
];
const say = (answers: Answers) =>
  answers
    .findings()
    .map(({ entry, span, code, severity, message, grafts }) =>
      [entry.line.text, span.start, code, severity, message, grafts].join('|'),
    );

/** What is counted, and which grafts each verb fits: kept by batch as findings are. */
function kept(answers: Answers): unknown {
  for (const _ of answers.all());
  const pieces = answers
    .pieces()
    .map(({ history, cohorts, counts }) => JSON.stringify([history.batch.name, cohorts[0].numbers, counts]));
  const fits = (['open', 'swell', 'take', 'headback', 'sell'] as const).map((verb) =>
    answers.fitting
      .of(verb)
      .map(({ history }) => [graftsFitting(history, verb, 'well'), graftsFitting(history, verb, 'less')]),
  );
  return { pieces: pieces.sort(), fits };
}

test('after each of some edits', () => {
  fc.assert(
    fc.property(
      fc.array(fc.constantFrom(...pool), { maxLength: 18 }),
      fc.array(fc.tuple(fc.nat(20), fc.option(fc.constantFrom(...pool)), fc.boolean()), { minLength: 1, maxLength: 6 }),
      (start, edits) => {
        const lines = [...nursery.split('\n').slice(1), ...start];
        const log = new Log();
        log.addFile('a.graft', lines.join('\n'));
        const answers = new Answers(log, day);
        say(answers);
        for (const [at, line, insert] of edits) {
          const i = Math.min(at, lines.length - 1);
          if (line === null) {
            if (lines.length < 2) continue;
            const last = i === lines.length - 1;
            answers.apply(
              log.applyEdit(
                'a.graft',
                last
                  ? {
                      start: { line: i - 1, character: (lines[i - 1] as string).length },
                      end: { line: i, character: (lines[i] as string).length },
                    }
                  : { start: { line: i, character: 0 }, end: { line: i + 1, character: 0 } },
                '',
              ),
            );
            lines.splice(i, 1);
          } else if (insert) {
            answers.apply(
              log.applyEdit(
                'a.graft',
                { start: { line: i, character: 0 }, end: { line: i, character: 0 } },
                `${line}\n`,
              ),
            );
            lines.splice(i, 0, line);
          } else {
            answers.apply(
              log.applyEdit(
                'a.graft',
                { start: { line: i, character: 0 }, end: { line: i, character: (lines[i] as string).length } },
                line,
              ),
            );
            lines[i] = line;
          }
          const fresh = new Log();
          fresh.addFile('a.graft', lines.join('\n'));
          const anew = new Answers(fresh, day);
          expect(say(answers)).toEqual(say(anew));
          expect(kept(answers)).toEqual(kept(anew));
        }
      },
    ),
    { numRuns: 150 },
  );
});
