import { shareOf } from '../facts.ts';
import type { Cohort, Visit } from '../model.ts';
import { onDay, type Subject } from '../practice.ts';
import { dayText } from '../say.ts';
import { subjectOf } from '../subject.ts';
import { firstAllowed } from './calendar.ts';
import { byCohort, type CheckEnv, daySpan, factSpan, type Seen } from './case.ts';
import { sentence, share } from './words.ts';

/** The understock shortened before the scion can do without it. */
export const headbackEarly = byCohort((cohort, _, env) => {
  const found: Seen[] = [];
  for (const { visit, subject } of cuts(cohort, env)) {
    const { day, entry } = visit;
    // a graft that was taken is never too early; counted takes don't tell whether this one was
    if ((cohort.take !== undefined && cohort.take <= day) || takesCounted(cohort, day)) continue;
    const [early] = env.practice
      .earliest('headback', subject)
      .filter(({ event }) => event === 'take' || event === 'free')
      .filter((waiting) => {
        const event = subject.event?.(waiting.event, day);
        const first = event === undefined ? undefined : firstAllowed(event, waiting, subject, env);
        return first === undefined || day < first;
      });
    if (!early) continue;
    const till = early.event === 'take' ? 'it still feeds the scion’s side' : 'the scion isn’t on its own yet';
    found.push({
      severity: early.severity,
      practice: early.row.entry,
      entry,
      span: factSpan(entry, 'share') ?? daySpan(entry),
      message: `Understock shortened before the ${early.event === 'take' ? 'take' : 'bud has been free long enough'}: ${till}.`,
      numbers: cohort.numbers,
      cohort,
      day,
    });
  }
  return found;
});

/** Too much of the understock at once, or the next cut too soon after the last. */
export const headbackHard = byCohort((cohort, _, env) => {
  const found: Seen[] = [];
  let before = 0;
  let last: Visit | undefined;
  for (const { visit, subject } of cuts(cohort, env)) {
    const now = shareOf(visit.statement);
    if (now === undefined) continue;
    const seen = tooHard(visit, now - before, now, before, last, subject, env);
    if (seen) found.push({ ...seen, numbers: cohort.numbers, cohort, day: visit.day });
    [before, last] = [Math.max(now, before), visit];
  }
  return found;
});

function tooHard(
  visit: Visit,
  step: number,
  now: number,
  before: number,
  last: Visit | undefined,
  subject: Subject,
  env: CheckEnv,
): Omit<Seen, 'numbers' | 'cohort' | 'day'> | undefined {
  const { entry, day } = visit;
  const at = { entry, span: factSpan(entry, 'share') ?? daySpan(entry) };
  const limits = env.practice.limits('headback-step', subject);
  const wide = limits.find(({ high }) => high !== undefined && step > high + 1e-6);
  if (wide) {
    const much =
      before === 0 && now > 0.999 ? 'All at once' : `From ${Math.round(before * 100)} to ${share(now)} at once`;
    return {
      ...at,
      severity: wide.severity,
      practice: wide.row.entry,
      weight: step,
      message: sentence(
        `${much}: up to ${share(wide.high ?? 1)} of it in one visit, so that the scion takes over in stages.`,
      ),
    };
  }
  // where all may go at once the pace isn't asked either
  if (!last || limits.length === 0 || limits.some(({ high }) => high === undefined || high >= 1)) return undefined;
  for (const waiting of env.practice.earliest('headback', subject).filter(({ event }) => event === 'headback')) {
    const first = firstAllowed(last.day, waiting, subject, env);
    if (first === undefined || day >= first) continue;
    return {
      ...at,
      severity: waiting.severity,
      practice: waiting.row.entry,
      weight: first - day,
      message: sentence(
        `Cut back again ${day - last.day} days after the last time: the next is due from ${dayText(first, day)}.`,
      ),
      related: [
        { entry: last.entry, span: factSpan(last.entry, 'share') ?? daySpan(last.entry), message: 'The cut before.' },
      ],
    };
  }
  return undefined;
}

/** Cuts after the grafting day; up to it they prepare the stock. */
function cuts(cohort: Cohort, env: CheckEnv): { readonly visit: Visit; readonly subject: Subject }[] {
  const visits = cohort.named.filter(
    ({ verb, day, undivided }) => verb === 'headback' && !undivided && day > cohort.madeDay,
  );
  const [first] = visits;
  if (!first) return [];
  const subject = subjectOf(cohort, first.day, env.log, env.lots);
  return visits.map((visit) => ({ visit, subject: onDay(subject, visit.day) }));
}

const takesCounted = ({ named, undivided }: Cohort, day: number): boolean =>
  undivided && named.some((visit) => visit.verb === 'take' && visit.undivided && visit.day <= day);
