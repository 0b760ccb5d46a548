import type { Day, Statement } from '#grammar/statement.ts';
import { addMonths } from '#grammar/values/date.ts';
import { greatest } from '#grammar/values/extremes.ts';
import { type Verb, verbRow } from '#grammar/vocabulary.ts';
import type { BatchHistory, Cohort, Cover, Entry } from '../model.ts';
import { byHistory } from '../order.ts';
import { type Limit, onDay, type Subject } from '../practice.ts';
import { seen } from '../practice-events.ts';
import { asAnother } from '../practice-subject.ts';
import { subjectOf } from '../subject.ts';
import { type inStretches, type PlaceYear, runningOrNext, stretchesOf, windowAfter } from '../year.ts';
import { yearAt } from './calendar.ts';
import { byBatch, byCohort, type CheckEnv, daySpan, factSpan, type Seen } from './case.ts';
import { lastTill, seenTill } from './place-lines.ts';
import { daysText } from './words.ts';

/** What answers a sign: somebody did something about it, or looked again. */
const answers: ReadonlySet<Verb> = new Set<Verb>([
  'open',
  'check',
  'treat',
  'free',
  'retie',
  'rewrap',
  'untie',
  'fail',
]);

/** Mould or water under a wrap, and nobody has aired it or looked since. */
export const mouldLeft = byCohort((cohort, history, env) =>
  left(
    cohort,
    history,
    env,
    ['mould', 'wet'],
    (sign, days) => `${sign === 'wet' ? 'Water' : 'Mould'} seen ${days} ago, nothing since: air them.`,
  ),
);

/** A tie that bites, and nobody has loosened it. */
export const tieBiting = byCohort((cohort, history, env) =>
  left(
    cohort,
    history,
    env,
    ['biting'],
    (_, days) => `The tie was biting ${days} ago, nothing since: bind it again, looser.`,
  ),
);

function left(
  cohort: Cohort,
  history: BatchHistory,
  env: CheckEnv,
  signs: readonly ('mould' | 'wet' | 'biting')[],
  say: (sign: string, days: string) => string,
): Seen[] {
  if (cohort.fail || cohort.sold !== undefined) return [];
  const visits = seenTill(cohort, env.day, env.places);
  const last = visits.findLast((visit) => !visit.undivided && signs.some((sign) => seen(visit, sign)));
  if (!last) return [];
  // work of the same day answers it, wherever it stands in the day
  if (signs.includes('biting') && cohort.untied !== undefined && cohort.untied <= last.day) return [];
  const answered = visits.some(({ verb, day, entry }) => answers.has(verb) && day >= last.day && entry !== last.entry);
  const days = env.day - last.day;
  const sign = signs.find((flag) => seen(last, flag));
  if (answered || !sign || forgotten(history, env)) return [];
  const subject = subjectOf(cohort, last.day, env.log, env.lots);
  const limit = env.practice.silent(sign, subject).find((one) => isLate(days, one, last.day, env.day));
  if (!limit) return [];
  return [
    {
      severity: limit.severity,
      practice: limit.row.entry,
      entry: last.entry,
      span: factSpan(last.entry, sign) ?? daySpan(last.entry),
      message: say(sign, daysText(days)),
      numbers: cohort.numbers,
      cohort,
      day: last.day,
      weight: days,
    },
  ];
}

/** Longer than the lower end; beyond the upper, nothing is late any more. Years are the calendar's. */
function isLate(days: number, { amount }: Limit, from: Day, today: Day): boolean {
  if (amount.low === undefined || days <= amount.low) return false;
  if (amount.highMonths !== undefined) return today <= addMonths(from, amount.highMonths);
  return amount.high === undefined || days <= amount.high;
}

/** Three calendar years without a line on a batch: it is history, and nothing in it is late. */
const historyMonths = 36;

export function forgotten(history: BatchHistory, env: CheckEnv): boolean {
  const last = lastWord(history, history.cohorts, env);
  return last !== undefined && env.day > addMonths(last, historyMonths);
}

/** Nobody has written about a batch, or the place it stands in, for a long time. */
export const silent = byBatch((history, env) => {
  const living = history.cohorts.filter((cohort) => isWaitedFor(cohort));
  if (living.length === 0) return [];
  const last = lastWord(history, living, env);
  const line = lastLine(history, env);
  if (last === undefined || !line) return [];
  const late: { cohort: Cohort; limit: Limit }[] = [];
  for (const cohort of living) {
    const limit = silentFor(cohort, last, env);
    if (limit) late.push({ cohort, limit });
  }
  const [first] = late;
  if (!first) return [];
  const name = late.length === history.cohorts.length ? history.batch.name : undefined;
  return late.map(
    ({ cohort, limit }): Seen => ({
      severity: limit.severity,
      practice: limit.row.entry,
      entry: line,
      span: setSpan(line, history),
      message: (grafts) => `No word on ${name ?? grafts} for ${daysText(env.day - last)}.`,
      numbers: cohort.numbers,
      cohort,
      day: env.day,
    }),
  );
});

/** The last line of work that names the batch or its tree, be it the `fail` of those that are not waited for. */
function lastLine({ cohorts, lines }: BatchHistory, env: CheckEnv): Entry | undefined {
  const named = cohorts.flatMap(({ named }) => named.at(-1)?.entry ?? []);
  const own = lines.filter(({ day, line: { statement } }) => day !== undefined && day <= env.day && isWork(statement));
  return [...named, ...own].reduce<Entry | undefined>((a, b) => (a && byHistory(a, b) >= 0 ? a : b), undefined);
}

const isWork = (statement: Statement | undefined): boolean =>
  statement !== undefined && verbRow(statement.verb).kind === 'work';

function setSpan(entry: Entry, { batch }: BatchHistory) {
  const sets = entry.line.statement?.sets ?? [];
  return sets.find(({ name }) => name.key === batch.key)?.span ?? sets[0]?.span ?? daySpan(entry);
}

/** Till it is untied, lost or sold; a thread graft is never bound, so with its take it is done. */
function isWaitedFor({ fail, sold, untied, method, take }: Cohort): boolean {
  return !fail && sold === undefined && untied === undefined && !(method === 'thread' && take !== undefined);
}

function silentFor(cohort: Cohort, last: Day, env: CheckEnv): Limit | undefined {
  const subject = subjectOf(cohort, last, env.log, env.lots);
  // takes that were counted: who is not taken isn't known, and the longer time holds for all
  const taken = cohort.take !== undefined || cohort.named.some(({ verb, undivided }) => verb === 'take' && undivided);
  const days = env.day - last;
  // no stretch of the year holds more days than have passed, and most batches were spoken of lately or are history
  const long = env.practice
    .silent(taken ? 'take' : undefined, subject)
    .filter(
      ({ low, amount: { highMonths } }) =>
        low !== undefined && days > low && (highMonths === undefined || env.day <= addMonths(last, highMonths)),
    );
  if (long.length === 0) return undefined;
  const year = yearAt(subject, env, cohort.stays.at(-1)?.place);
  if (!taken && sleepsTill(cohort, subject, year, env) >= env.day) return undefined;
  return long.find((limit) => {
    const { low = 0, row } = limit;
    const counted = row.within ? daysInside(last, env.day, stretchesOf(row.within, row, year)) : days;
    return counted > low && isLate(Math.max(counted, low + 1), limit, last, env.day);
  });
}

/** The last day of the first window in which it is expected to swell; grafts of the cold half without one sleep like needle conifers. */
function sleepsTill(cohort: Cohort, subject: Subject, year: PlaceYear, env: CheckEnv): Day {
  if (cohort.swell !== undefined) return Number.NEGATIVE_INFINITY;
  const made = onDay(subject, cohort.madeDay);
  const own = env.practice.work('watch', 'graft', made);
  const like = own ?? winterWatch(made, env);
  const window = like && windowAfter(cohort.madeDay, like.row, year);
  return window?.by ?? Number.NEGATIVE_INFINITY;
}

/** An autumn or winter graft for which no swelling is watched is given the time of those for which it is. */
function winterWatch(subject: Subject, env: CheckEnv) {
  const needle = asAnother(subject, { group: 'needle', method: 'side', flags: () => new Set<Cover>() });
  const asked = env.practice.work('watch', 'graft', needle);
  return asked?.wait.kind === 'dates' ? asked : undefined;
}

/** Days after one day up to another that lie in stretches of the year. */
function daysInside(after: Day, till: Day, stretches: Parameters<typeof inStretches>[1]): number {
  let count = 0;
  for (let day = after + 1; day <= till; ) {
    const running = runningOrNext(day, stretches);
    if (!running || running.from > till) break;
    const from = Math.max(day, running.from);
    const by = Math.min(till, running.by);
    count += by - from + 1;
    day = Math.max(by, from) + 1;
  }
  return count;
}

/** The last day with a line on the batch, its tree, or the place where some of its grafts stand. */
function lastWord(history: BatchHistory, cohorts: readonly Cohort[], env: CheckEnv): Day | undefined {
  const days = history.cohorts.flatMap(({ named }) => named.at(-1)?.day ?? []);
  for (const { day } of history.lines) if (day !== undefined && day <= env.day) days.push(day);
  for (const { stays } of cohorts) {
    const place = stays.at(-1)?.place;
    const day = place === undefined ? undefined : lastTill(env.places.days(place), env.day);
    if (day !== undefined && day >= (stays.at(-1)?.day ?? day)) days.push(day);
  }
  return days.length > 0 ? greatest(days) : undefined;
}
