import type { Day } from '#grammar/statement.ts';
import { stayOn } from '../cover.ts';
import type { Cohort, Visit } from '../model.ts';
import { onDay, type Subject, type Waiting } from '../practice.ts';
import { seen } from '../practice-events.ts';
import { above } from '../practice-match.ts';
import { dayText } from '../say.ts';
import { subjectOf } from '../subject.ts';
import { growthFrom } from '../year.ts';
import { firstAllowed, yearAt } from './calendar.ts';
import { byCohort, type CheckEnv, daySpan, type Seen } from './case.ts';
import { seenTill } from './place-lines.ts';
import { daysText, sentence } from './words.ts';

/** The binding taken off before the union has grown through its season. */
export const unionUncovered = byCohort((cohort, _, env) => {
  const found: Seen[] = [];
  let subject: Subject | undefined;
  for (const visit of cohort.named) {
    if (visit.verb !== 'untie' || visit.undivided) continue;
    const { day, entry } = visit;
    if (cohort.named.some(({ verb, day: on }) => verb === 'retie' && on === day)) continue;
    subject = subject ? onDay(subject, day) : subjectOf(cohort, day, env.log, env.lots);
    if (seenBiting(cohort, day, subject, env)) continue;
    const early = env.practice.earliest('untie', subject).flatMap((waiting) => {
      const first = firstDay(waiting, cohort, day, subject as Subject, env);
      return first !== undefined && day < first ? [{ waiting, first }] : [];
    });
    const [worst] = early.sort((a, b) => b.first - a.first);
    if (!worst) continue;
    found.push({
      severity: worst.waiting.severity,
      practice: worst.waiting.row.entry,
      entry,
      span: daySpan(entry),
      weight: worst.first - day,
      message: sentence(
        `Union bared after ${daysText(day - cohort.madeDay)}: leave it bound till ${dayText(worst.first, day)}, so that it doesn’t break.`,
      ),
      numbers: cohort.numbers,
      cohort,
      day,
      related: [{ entry: cohort.made, span: daySpan(cohort.made), message: 'Grafted here.' }],
    });
  }
  return found;
});

/** The first day practice allows; nothing where its event isn't on record, or there is no season. */
function firstDay(waiting: Waiting, cohort: Cohort, day: Day, subject: Subject, env: CheckEnv): Day | undefined {
  const place = stayOn(cohort, day)?.place;
  const swell = cohort.swell !== undefined && cohort.swell <= day ? cohort.swell : undefined;
  const from =
    waiting.event === 'growth'
      ? (swell ?? growthFrom(cohort.madeDay, yearAt(subject, env, place)))
      : subject.event?.(waiting.event, day);
  return from === undefined ? undefined : firstAllowed(from, waiting, subject, env, place);
}

function seenBiting(cohort: Cohort, day: Day, subject: Subject, env: CheckEnv): boolean {
  const biting = seenTill(cohort, day, env.places).findLast((visit: Visit) => seen(visit, 'biting'));
  if (!biting) return false;
  const stands = env.practice.stands('biting', onDay(subject, biting.day));
  return stands !== undefined && !above(day - biting.day, stands.amount);
}
