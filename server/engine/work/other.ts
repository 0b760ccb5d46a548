import type { Day } from '#grammar/statement.ts';
import type { Work } from '../model.ts';
import { eventDay } from '../practice-events.ts';
import { dayText, workTitle } from '../say.ts';
import { isBound, isSevered } from './after.ts';
import type { Case } from './case.ts';
import { seenFrost } from './frost.ts';
import { moving } from './look.ts';
import { isWrapped } from './open.ts';
import { nextShare } from './step.ts';
import { type Task, task } from './task.ts';

/** Work after these events has a chain of its own, which knows more than a window. */
const chained: Readonly<Record<Work, readonly string[]>> = {
  look: ['word', 'frost', 'dry', 'mould', 'wet'],
  watch: ['graft', 'watch'],
  cover: ['graft', 'dry'],
  shade: ['graft'],
  open: ['swell', 'mould', 'wet', 'green'],
  judge: ['first-swell', 'first-open', 'graft'],
  take: ['free'],
  tie: ['word', 'biting'],
  headback: ['take', 'headback'],
  untie: ['graft', 'growth', 'free', 'take', 'sever'],
  suckers: ['swell', 'headback', 'suckers'],
  sever: ['growth'],
  again: ['take', 'again'],
};

/** Work that a nursery's own lines ask for after any other event: due in its window till it was done. */
export function others(grafts: Case): readonly Task[] {
  const { env, day } = grafts;
  const found: Task[] = [];
  for (const { what, event } of env.practice.works) {
    if (chained[what].includes(event)) continue;
    const on = dayOf(grafts, event);
    if (on === undefined || isDone(grafts, what, on)) continue;
    const rule = grafts.rule(what, event, on);
    const window = rule && grafts.window(rule, on);
    if (!window) continue;
    const share = what === 'open' ? grafts.cohort.share : grafts.cohort.headback;
    const to =
      what === 'open' || what === 'headback' ? { to: nextShare(grafts, `${what}-step`, share, Math.max(on, day)) } : {};
    found.push(task(what, window, rule, `${event} ${dayText(on, day)}: ${workTitle({ what })}`, to));
  }
  return found;
}

function dayOf(grafts: Case, event: string): Day | undefined {
  const { cohort, events, day } = grafts;
  switch (event) {
    case 'word':
      return events.word;
    case 'growth':
      return grafts.growth();
    case 'first-swell':
      return events.firstSwell;
    case 'frost':
      return seenFrost(grafts);
    default:
      return eventDay(cohort, event, day);
  }
}

/** What ends each kind of work; looking ends with the next look, work with having been done. */
function isDone(grafts: Case, what: Work, on: Day): boolean {
  const { cohort, events } = grafts;
  const { free, take, untied } = cohort;
  const since = (...verbs: readonly Parameters<typeof events.done>[0][]) =>
    verbs.some((verb) => (events.done(verb) ?? Number.NEGATIVE_INFINITY) >= on);
  switch (what) {
    case 'look':
    case 'again':
      return events.looks.some((look) => look.day > on);
    case 'watch':
      return moving(grafts);
    case 'cover':
      return take !== undefined || since('cover', 'rewrap');
    case 'shade':
      return free !== undefined || take !== undefined || since('cover');
    case 'open':
      return !isWrapped(grafts) || free !== undefined || take !== undefined || cohort.share >= 1 || since('open');
    case 'judge':
    case 'take':
      return take !== undefined;
    case 'tie':
      return !isBound(grafts) || since('retie') || events.looks.some((look) => look.day > on);
    case 'headback':
      return cohort.headback >= 1 || since('headback');
    case 'untie':
      return untied !== undefined || !isBound(grafts);
    case 'suckers':
      return (events.sign('suckers')?.day ?? Number.NEGATIVE_INFINITY) >= on;
    case 'sever':
      return take !== undefined || isSevered(grafts);
  }
}
