import type { Cohort } from '../model.ts';
import type { EarliestWork } from '../practice.ts';
import { subjectOf } from '../subject.ts';
import { firstAllowed } from './calendar.ts';
import { byCohort, type CheckEnv, daySpan, type Seen } from './case.ts';
import { daysText, withWhy } from './words.ts';

/** Buds that move before a union can be sound. */
export const swellEarly = byCohort((cohort, _, env) => {
  const visit = cohort.named.find(({ verb, undivided }) => verb === 'swell' && !undivided);
  if (!visit || visit.day !== cohort.swell) return [];
  return tooEarly('swell', visit, cohort, env, (days, source) =>
    withWhy(`Buds move after ${days}: cool, shade, keep closed`, source),
  );
});

/** A take judged so young that a fresh scion could still be living on what it brought. */
export const takeEarly = byCohort((cohort, _, env) => {
  const visit = cohort.named.find(({ verb }) => verb === 'take');
  if (!visit) return [];
  return tooEarly(
    'take',
    visit,
    cohort,
    env,
    (days) => `Judged after ${days}: a fresh green scion can live on callus. Look again; the rate counts it apart.`,
  );
});

function tooEarly(
  work: EarliestWork,
  { entry, day }: { readonly entry: Seen['entry']; readonly day: number },
  cohort: Cohort,
  env: CheckEnv,
  say: (days: string, source: string | undefined) => string,
): Seen[] {
  const subject = subjectOf(cohort, day, env.log, env.lots);
  for (const waiting of env.practice.earliest(work, subject)) {
    const { row, event, severity } = waiting;
    const from = subject.event?.(event, day);
    const first = from === undefined ? undefined : firstAllowed(from, waiting, subject, env);
    if (first === undefined || day >= first) continue;
    return [
      {
        severity,
        practice: row.entry,
        entry,
        span: daySpan(entry),
        weight: first - day,
        message: say(daysText(day - cohort.madeDay), row.source),
        numbers: cohort.numbers,
        cohort,
        day,
        related: [{ entry: cohort.made, span: daySpan(cohort.made), message: 'Grafted here.' }],
      },
    ];
  }
  return [];
}
