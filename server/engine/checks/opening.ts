import type { Day } from '#grammar/statement.ts';
import { shareOf } from '../facts.ts';
import { graftsText } from '../grafts-text.ts';
import type { Cohort, Visit } from '../model.ts';
import { isDetached, onDay, type Subject } from '../practice.ts';
import { seen } from '../practice-events.ts';
import { above, below } from '../practice-match.ts';
import { dayText } from '../say.ts';
import { subjectOf } from '../subject.ts';
import { byCohort, type CheckEnv, daySpan, factSpan, type Seen } from './case.ts';
import { lineAbove } from './mends.ts';
import { seenTill } from './place-lines.ts';
import { daysText, share, usual } from './words.ts';

/** One step of the opening as the log tells it. */
interface Step {
  readonly visit: Visit;
  /** How far it is now and was before, 0..1; absent where a line didn't say which grafts it opened. */
  readonly share: number;
  readonly before?: number;
  /** The visit that opened it last, however far. */
  readonly last?: Visit;
}

/** The wrap opened before any swelling was noted: the union may not feed the buds yet. */
export const openEarly = byCohort((cohort, _, env) => {
  if (!isDetached(cohort.method)) return [];
  const found: Seen[] = [];
  const till = Math.min(env.day, (cohort.take ?? Number.POSITIVE_INFINITY) - 1);
  const tents = seenTill(cohort, till, env.places).filter(({ verb, via }) => verb === 'open' && via === 'place');
  const lines = [...stepsOf(cohort).map(({ visit }) => visit), ...tents];
  for (const { entry, day } of lines) {
    if (swollen(cohort, day) || isVenting(cohort, day, env)) continue;
    found.push({
      severity: 'warning',
      entry,
      span: factSpan(entry, 'share') ?? daySpan(entry),
      message: 'Opened, and no swelling noted. Seen it? Add the `swell` line.',
      numbers: cohort.numbers,
      cohort,
      day,
      mends: (numbers) => lineAbove(entry, `swell    ${graftsText(cohort.batch, numbers)}`, 'Add the `swell` line'),
    });
  }
  return found;
});

/** A step wider than practice: the scion dries before it has hardened. */
export const openWide = byCohort((cohort, _, env) =>
  judged(cohort, env, ({ visit, share: now, before = 0 }, subject) => {
    const limit = env.practice
      .limits('open-step', subject)
      .find(({ high }) => high !== undefined && now - before > high + 1e-9);
    if (!limit) return undefined;
    const step = usual(limit, (figure) => share(figure)).replace(/\u00A0%$/u, '');
    return {
      severity: limit.severity,
      practice: limit.row.entry,
      entry: visit.entry,
      span: factSpan(visit.entry, 'share') ?? daySpan(visit.entry),
      weight: now - before,
      message: `From ${Math.round(before * 100)} to ${share(now)}: open ${step} points at a time, so that the scion hardens.`,
    };
  }),
);

/** A step sooner after the last than practice: each asks for its days. */
export const openSoon = byCohort((cohort, _, env) =>
  judged(cohort, env, ({ visit, last }, subject) => {
    if (!last) return undefined;
    const days = visit.day - last.day;
    const limit = env.practice.limits('open-every', subject).find(({ amount }) => below(days, amount));
    if (!limit) return undefined;
    return {
      severity: limit.severity,
      practice: limit.row.entry,
      entry: visit.entry,
      span: daySpan(visit.entry),
      weight: -days,
      message: `${capital(daysText(days))} after the last step: wait ${usual(limit, (figure) => String(figure))} days.`,
      related: [{ entry: last.entry, span: daySpan(last.entry), message: 'The last step.' }],
    };
  }),
);

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

/** Opened further though the scions were found dry, and nothing has said since that they are plump. */
export const dryOpened = byCohort((cohort, _, env) => {
  if (!isDetached(cohort.method)) return [];
  const visits = seenTill(cohort, env.day, env.places);
  if (!visits.some((visit) => seen(visit, 'dry'))) return [];
  const found: Seen[] = [];
  let subject: Subject | undefined;
  for (const { visit, share: now, before } of stepsOf(cohort)) {
    if (before === undefined || now <= before) continue;
    const dry = dryBefore(visits, visit);
    if (!dry) continue;
    subject = subject ? onDay(subject, dry.day) : subjectOf(cohort, dry.day, env.log, env.lots);
    const stands = env.practice.stands('dry', subject);
    if (!stands || above(visit.day - dry.day, stands.amount)) continue;
    found.push({
      severity: 'warning',
      entry: visit.entry,
      span: factSpan(visit.entry, 'share') ?? daySpan(visit.entry),
      message: `Found dry on ${dayText(dry.day)}, opened more on ${dayText(visit.day)}: cover again first.`,
      numbers: cohort.numbers,
      cohort,
      day: visit.day,
      related: [
        { entry: dry.entry, span: factSpan(dry.entry, 'dry') ?? daySpan(dry.entry), message: 'Found dry here.' },
      ],
    });
  }
  return found;
});

type Found = Omit<Seen, 'numbers' | 'cohort' | 'day'> | undefined;

/** Steps whose width and pace can be held against practice: not after the bud is free, and not to let mould dry. */
function judged(cohort: Cohort, env: CheckEnv, look: (step: Step, subject: Subject) => Found): Seen[] {
  if (!isDetached(cohort.method)) return [];
  const found: Seen[] = [];
  let subject: Subject | undefined;
  for (const step of stepsOf(cohort)) {
    const { day } = step.visit;
    if (step.before === undefined || (cohort.free !== undefined && cohort.free <= day)) continue;
    // a share that falls is reported alone
    if (step.share < step.before) continue;
    subject = subject ? onDay(subject, day) : subjectOf(cohort, day, env.log, env.lots);
    const seenHere = look(step, subject);
    if (seenHere && !isVenting(cohort, day, env)) found.push({ ...seenHere, numbers: cohort.numbers, cohort, day });
  }
  return found;
}

/** Every `open` of the set in order; `rewrap` begins anew, and a share that fell counts as a visit only. */
function stepsOf(cohort: Cohort): readonly Step[] {
  if (!cohort.named.some(({ verb }) => verb === 'open')) return noSteps;
  let known = steps.get(cohort);
  if (!known) {
    known = walked(cohort);
    steps.set(cohort, known);
  }
  return known;
}

const noSteps: readonly Step[] = [];
const steps = new WeakMap<Cohort, readonly Step[]>();

function walked(cohort: Cohort): readonly Step[] {
  const found: Step[] = [];
  let before: number | undefined = 0;
  let last: Visit | undefined;
  for (const visit of cohort.named) {
    if (visit.undivided && (visit.verb === 'open' || visit.verb === 'rewrap')) {
      [before, last] = [undefined, undefined];
      continue;
    }
    if (visit.verb === 'rewrap') before = 0;
    if (visit.verb !== 'open') continue;
    const now = shareOf(visit.statement);
    if (now === undefined) continue;
    found.push({ visit, share: now, ...(before === undefined ? {} : { before }), ...(last ? { last } : {}) });
    before = Math.max(now, before ?? 0);
    last = visit;
  }
  return found;
}

/** Bud free, or seen swelling, by that day; both count for the whole of their day. */
const swollen = ({ swell, free, take }: Cohort, day: Day): boolean =>
  [swell, free, take].some((seenOn) => seenOn !== undefined && seenOn <= day);

/** Mould or wet seen on or after the day of the last step, on the grafts or their place: this opening airs them. */
function isVenting(cohort: Cohort, day: Day, env: CheckEnv): boolean {
  const last = cohort.named.findLast(({ verb, day: on }) => verb === 'open' && on < day)?.day ?? cohort.madeDay;
  return seenTill(cohort, day, env.places).some(
    (visit) => visit.day >= last && (seen(visit, 'mould') || seen(visit, 'wet')),
  );
}

/** The last `dry`, unless `plump`, `green` or a new wrap came since; what is seen counts for the whole of its day. */
function dryBefore(visits: readonly Visit[], step: Visit): Visit | undefined {
  let dry: Visit | undefined;
  for (const visit of visits) {
    if (visit.day > step.day) break;
    if (visit.verb === 'rewrap') dry = undefined;
    else if (seen(visit, 'plump') || seen(visit, 'green')) dry = undefined;
    else if (seen(visit, 'dry') && !visit.undivided) dry = visit;
  }
  return dry;
}
