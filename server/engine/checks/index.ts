import type { Code, CodeFound } from '#grammar/codes.ts';
import { severities } from '#grammar/finding.ts';
import type { Intervals } from '#grammar/statement.ts';
import { contains, normalize, size } from '#grammar/values/intervals.ts';
import type { Accepted } from '../accept.ts';
import { stayOn } from '../cover.ts';
import { graftsText, graftsWords } from '../grafts-text.ts';
import type { BatchHistory, Cohort, Entry, Finding } from '../model.ts';
import { byHistory } from '../order.ts';
import { subjectOf } from '../subject.ts';
import { mouldLeft, silent, tieBiting } from './attention.ts';
import type { Check, CheckEnv, Seen, Sitting } from './case.ts';
import { frostCoverMissing, sunCoverMissing, windCoverMissing } from './cover.ts';
import { cutDeep, cutMissing, cutShallow } from './cut.ts';
import { faceShort, facesLevel } from './faces.ts';
import { froze, tooHot } from './frost.ts';
import { headbackEarly, headbackHard } from './headback.ts';
import { cambiumUnmatched, farOut, jointReset, sideTop } from './joint.ts';
import { acceptMends, copyMend } from './mends.ts';
import { dryOpened, openEarly, openSoon, openWide } from './opening.ts';
import { pairNever, pairPoor } from './pair.ts';
import { placeFull } from './place.ts';
import { swellEarly, takeEarly } from './record.ts';
import { scionShort, scionThick, whorlsFew, whorlsMany } from './scion.ts';
import { seasonOff } from './season.ts';
import { storedLong, storedWarm } from './store.ts';
import { unionUncovered } from './tie.ts';
import { woodOld, woodPruned, woodSoft } from './wood.ts';
import { wrapMissing } from './wrap.ts';

const practiceChecks = {
  'cut-shallow': cutShallow,
  'cut-deep': cutDeep,
  'cut-missing': cutMissing,
  'face-short': faceShort,
  'faces-level': facesLevel,
  'whorls-few': whorlsFew,
  'whorls-many': whorlsMany,
  'wood-soft': woodSoft,
  'wood-old': woodOld,
  'wood-pruned': woodPruned,
  'scion-short': scionShort,
  'scion-thick': scionThick,
  'side-top': sideTop,
  'far-out': farOut,
  'cambium-unmatched': cambiumUnmatched,
  'joint-reset': jointReset,
  'pair-poor': pairPoor,
  'pair-never': pairNever,
  'season-off': seasonOff,
  'stored-long': storedLong,
  'stored-warm': storedWarm,
  'wrap-missing': wrapMissing,
  'frost-cover-missing': frostCoverMissing,
  'sun-cover-missing': sunCoverMissing,
  'wind-cover-missing': windCoverMissing,
  froze,
  'too-hot': tooHot,
  'swell-early': swellEarly,
  'open-early': openEarly,
  'open-wide': openWide,
  'open-soon': openSoon,
  'dry-opened': dryOpened,
  'union-uncovered': unionUncovered,
  'headback-early': headbackEarly,
  'headback-hard': headbackHard,
  'take-early': takeEarly,
  'place-full': placeFull,
} satisfies Record<CodeFound<'practice'>, Check>;

/** `overdue` is found with the work it is about. */
const attentionChecks = { 'mould-left': mouldLeft, 'tie-biting': tieBiting, silent } satisfies Record<
  Exclude<CodeFound<'attention'>, 'overdue'>,
  Check
>;

const checks = Object.entries({ ...practiceChecks, ...attentionChecks }) as [Code, Check][];

/** What practice has to say of a batch: one finding a line and code, naming the set; what is accepted left out. */
export function checkBatch(history: BatchHistory, env: CheckEnv): Finding[] {
  const sittings = sittingsOf(history, env);
  const found: Finding[] = [];
  for (const [code, check] of checks) {
    const seen = ask(check, history, sittings, env);
    if (seen.length > 0)
      found.push(
        ...told(
          code,
          seen.filter((one) => !isAccepted(code, one, env)),
          history,
          env,
        ),
      );
  }
  return found;
}

/** What spans batches: wood in store, and places that are full. */
export function checkLog(env: CheckEnv, histories: readonly BatchHistory[]): Finding[] {
  return checks.flatMap(([, check]) => (check.by === 'log' ? check.check(env, histories) : []));
}

function ask(check: Check, history: BatchHistory, sittings: readonly Sitting[], env: CheckEnv): readonly Seen[] {
  switch (check.by) {
    case 'sitting':
      return sittings.flatMap((sitting) => check.check(sitting, env));
    case 'cohort':
      return history.cohorts.flatMap((cohort) => check.check(cohort, history, env));
    case 'batch':
      return check.check(history, env);
    case 'log':
      return [];
  }
}

/**
 * Grafts of one line are asked about their facts together, but for those that practice or `accept` lines name apart:
 * the history has cut them along such lines.
 */
function sittingsOf(history: BatchHistory, env: CheckEnv): Sitting[] {
  const named = [...env.practice.setsOf(history.batch.key), ...env.accepts.setsOf(history.batch.key)];
  const byLine = new Map<Entry, Cohort[][]>();
  for (const cohort of history.cohorts) {
    const parts = byLine.get(cohort.made) ?? [];
    byLine.set(cohort.made, parts);
    const like = named.length === 0 ? parts[0] : parts.find(([other]) => other && sameSets(other, cohort, named));
    if (like) like.push(cohort);
    else parts.push([cohort]);
  }
  return [...byLine.values()].flat().flatMap((cohorts) => {
    const [cohort] = cohorts;
    if (!cohort) return [];
    const lot = env.lots.ofCohort(cohort);
    const numbers = cohorts.length === 1 ? cohort.numbers : normalize(cohorts.flatMap((one) => one.numbers));
    const whole = { ...subjectOf(cohort, cohort.madeDay, env.log, env.lots), numbers };
    return {
      history,
      cohorts,
      cohort,
      numbers,
      made: cohort.made,
      day: cohort.madeDay,
      subject: whole,
      fact: (key) => cohort.fact(key) ?? lot?.fact(key),
    } satisfies Sitting;
  });
}

const sameSets = (a: Cohort, b: Cohort, sets: readonly Intervals[]): boolean =>
  sets.every((set) => contains(set, a.numbers[0] ?? 0) === contains(set, b.numbers[0] ?? 0));

function isAccepted(code: Code, { entry, day, cohort, numbers }: Seen, env: CheckEnv): boolean {
  const stay = stayOn(cohort, day);
  const { batch, method, group, scion } = cohort;
  const about: Accepted = {
    entry,
    day,
    batch: batch.key,
    numbers,
    ...(stay?.place === undefined ? {} : { place: stay.place }),
    ...(stay?.tree === undefined ? {} : { tree: stay.tree }),
    ...(method ? { method } : {}),
    ...(group ? { group } : {}),
    ...(scion ? { scion } : {}),
  };
  return env.accepts.covers(code, about);
}

/** Joins what was seen of several sets on one line; the worst and heaviest gives its words. */
function told(code: Code, seen: readonly Seen[], history: BatchHistory, env: CheckEnv): Finding[] {
  const byLine = new Map<Entry, Seen[]>();
  for (const one of onceOnly(seen)) byLine.set(one.entry, [...(byLine.get(one.entry) ?? []), one]);
  return [...byLine.entries()].flatMap(([entry, all]) => {
    const [first] = all.toSorted(
      (a, b) => severities.indexOf(a.severity) - severities.indexOf(b.severity) || (b.weight ?? 0) - (a.weight ?? 0),
    );
    if (!first) return [];
    const { batch } = history;
    const numbers = all.length === 1 ? first.numbers : normalize(all.flatMap((one) => one.numbers));
    const words = graftsWords(batch, numbers);
    const { severity, span, message, related, practice, mends } = first;
    return {
      code,
      severity,
      entry,
      span,
      message: typeof message === 'string' ? message : message(words, size(numbers)),
      grafts: graftsText(batch, numbers),
      ...(related ? { related } : {}),
      ...(practice ? { practice } : {}),
      get mends() {
        const copy = practice ? copyMend(practice, env.log) : [];
        return [...(mends?.() ?? []), ...acceptMends(code, entry, batch, env.log), ...copy];
      },
    } satisfies Finding;
  });
}

/** Of findings that are said once a batch and place the first line keeps its own. */
function onceOnly(seen: readonly Seen[]): readonly Seen[] {
  const first = new Map<string, Entry>();
  for (const { once, entry } of seen) {
    if (once === undefined) continue;
    const known = first.get(once);
    if (!known || byHistory(entry, known) < 0) first.set(once, entry);
  }
  return first.size === 0 ? seen : seen.filter(({ once, entry }) => once === undefined || first.get(once) === entry);
}
