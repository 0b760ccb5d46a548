import type { Day } from '#grammar/statement.ts';
import { onDay } from '../practice-subject.ts';
import { dayText, toText } from '../say.ts';
import type { Window } from '../year.ts';
import type { Case } from './case.ts';
import { signWords } from './look.ts';
import { stallOf } from './stall.ts';
import { ends, nextShare } from './step.ts';
import { type Task, task } from './task.ts';

/**
 * The opening, exactly: one step is next, never two, counted from the day the last one was
 * done. Mould is aired at once, dry grafts rest under their wrap, and what stalls is looked at instead.
 */
export function opening(grafts: Case): readonly Task[] {
  const { cohort } = grafts;
  if (!isWrapped(grafts) || cohort.free !== undefined || cohort.take !== undefined) return [];
  const hold = dryHold(grafts);
  const airing = air(grafts, hold?.on ? hold.dry : never);
  if (airing) return [airing];
  if (hold?.on || cohort.swell === undefined) return [];
  return step(grafts, cohort.swell, hold?.from ?? never);
}

const never = Number.NEGATIVE_INFINITY;

/** Film or bag on record, or work that proves a wrap; waxed, tented and misted grafts have no opening. */
export function isWrapped({ cohort, detached, events }: Case): boolean {
  const noted = cohort.fact('film') !== undefined || cohort.fact('bag') !== undefined;
  return detached && (noted || events.opened.length > 0 || events.rewrapped.length > 0);
}

/** Mould or wet that nobody answered: a step at once, early or before swelling. Its lateness is `mould-left`'s to tell. */
function air(grafts: Case, dry: Day): Task | undefined {
  const { events, day } = grafts;
  const sign = events.sign('mould', 'wet');
  if (!sign || sign.day <= dry || events.answered(sign)) return undefined;
  const flag = sign.flags.has('mould') ? 'mould' : 'wet';
  const rule = grafts.rule('open', flag, sign.day);
  const window = rule && grafts.window(rule, sign.day);
  if (!window) return undefined;
  const to = nextShare(grafts, 'open-step', grafts.cohort.share, day);
  const why = `${signWords[flag]} ${dayText(sign.day, day)}: air it, ${toText(to)}`;
  return task('open', window, rule, why, { to, said: true });
}

interface Hold {
  readonly dry: Day;
  readonly on: boolean;
  /** Over: steps go on from here. */
  readonly from?: Day;
}

/**
 * Found dry: no step until found plump or green, or until the sign no longer stands; a later step that was made anyway
 * ends it, too.
 */
function dryHold({ events, env, subject, day }: Case): Hold | undefined {
  const sign = events.sign('dry');
  if (!sign || events.opened.some((opened) => opened > sign.day)) return undefined;
  const dry = sign.day;
  const later = events.looks.slice(events.looks.indexOf(sign) + 1);
  const well = later.find((look) => look.flags.has('plump') || look.flags.has('green'));
  if (well) return { dry, on: false, from: well.day };
  const stands = env.practice.stands('dry', onDay(subject, dry));
  if (!stands) return undefined;
  const till = dry + (stands.high ?? stands.low ?? 0);
  return day <= till ? { dry, on: true } : { dry, on: false, from: till + 1 };
}

/** Wrapping a dry graft again, before anything else. */
export function coverAgain(grafts: Case): readonly Task[] {
  const { cohort, events, detached, day } = grafts;
  if (!detached || cohort.free !== undefined || cohort.take !== undefined) return [];
  const hold = dryHold(grafts);
  if (!hold?.on || events.rewrapped.some((on) => on >= hold.dry)) return [];
  const rule = grafts.rule('cover', 'dry', hold.dry);
  const window = rule && grafts.window(rule, hold.dry);
  const why = `found dry ${dayText(hold.dry, day)}: wrap it again before anything else`;
  return window ? [task('cover', window, rule, why, { timed: 'rewrap', renews: 'wrap' })] : [];
}

function step(grafts: Case, swell: Day, notBefore: Day): readonly Task[] {
  const { cohort, events, day } = grafts;
  const rule = grafts.rule('open', 'swell', swell);
  const first = rule && grafts.window(rule, soundFrom(grafts, swell));
  if (!rule || !first) return [];
  const opened = events.opened.at(-1) ?? never;
  const last = Math.max(opened, events.rewrapped.at(-1) ?? never);
  const stall = stallOf(grafts, swell);
  if (stall?.green !== undefined && opened < stall.green) return cohort.share < 1 ? reopened(grafts, stall.green) : [];
  const next = last === never ? notEarlier(first, notBefore) : after(grafts, last, swell, first, notBefore);
  if (stall && (day >= stall.day || next.from >= stall.day)) return stalled(grafts, stall.first);
  if (cohort.share >= 1) return [];
  const to = nextShare(grafts, 'open-step', cohort.share, day);
  const [since, line] =
    last === never
      ? [`buds seen swelling ${dayText(swell, day)}`, rule]
      : [
          `${last === opened ? 'last step' : 'wrapped again'} ${dayText(last, day)}`,
          ends(grafts, 'open-every', last).row,
        ];
  return [task('open', next, line ?? rule, `${since}: one step, ${toText(to)}`, { to, waits: !rule.urgent })];
}

const notEarlier = ({ from, by }: Window, day: Day): Window => ({
  from: Math.max(from, day),
  by: by + Math.max(0, day - from),
});

/** Buds that move before the union is sound stay closed till it is. */
function soundFrom({ env, subject, cohort }: Case, swell: Day): Day {
  let first = swell;
  for (const { event, wait } of env.practice.earliest('swell', onDay(subject, swell)))
    if (event === 'graft' && wait.kind === 'amount') first = Math.max(first, cohort.madeDay + Math.ceil(wait.low ?? 0));
  return first;
}

/**
 * So many days after the last step or the new wrap. Where that was before the buds swelled: not before they did, and
 * with the time that a first step has.
 */
function after(grafts: Case, last: Day, swell: Day, first: Window, notBefore: Day): Window {
  const every = ends(grafts, 'open-every', last);
  const from = Math.max(last + every.low, first.from, notBefore);
  const by = from + every.high - every.low;
  return { from, by: last < swell && notBefore < from ? Math.max(by, first.by) : by };
}

function stalled(grafts: Case, first: Day): readonly Task[] {
  const rule = grafts.rule('judge', 'first-open', first);
  const window = rule && grafts.window(rule, first);
  const why = `first step ${dayText(first, grafts.day)} and not free: green or dry?`;
  return window ? [task('judge', window, rule, why)] : [];
}

function reopened(grafts: Case, green: Day): readonly Task[] {
  const rule = grafts.rule('open', 'green', green);
  const window = rule && grafts.window(rule, green);
  if (!window) return [];
  const to = nextShare(grafts, 'open-step', grafts.cohort.share, grafts.day);
  return [task('open', window, rule, `stalled, and found green ${dayText(green, grafts.day)}: ${toText(to)}`, { to })];
}
