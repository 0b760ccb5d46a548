import type { Day } from '#grammar/statement.ts';
import type { PracticeRow } from '../practice-rows.ts';
import { isBud, onDay } from '../practice-subject.ts';
import { countText, dayText } from '../say.ts';
import { runningOn, stretchesOf, type Window } from '../year.ts';
import type { Case } from './case.ts';
import { seenFrost } from './frost.ts';
import { type Task, task } from './task.ts';

/** The next look: after a sign, after a frost, or so long after the last word, till the buds swell. */
export function looks(grafts: Case): readonly Task[] {
  const { events, day } = grafts;
  const found: Task[] = [];
  const sign = grafts.cohort.undivided ? undefined : events.sign('dry', 'mould', 'wet');
  // only a look at these grafts or their place is the look that was asked for
  if (sign && !events.looks.some((look) => look.day > sign.day)) {
    const flag = (['dry', 'mould', 'wet'] as const).find((one) => sign.flags.has(one)) ?? 'dry';
    found.push(...after(grafts, flag, sign.day, `${signWords[flag]} ${dayText(sign.day, day)}: look again`));
  }
  const frost = seenFrost(grafts);
  if (frost !== undefined)
    found.push(
      ...after(grafts, 'frost', frost, `frost where they stood on ${dayText(frost, day)}: look the morning after`),
    );
  // a graft on its own roots isn't covered, and nothing in it is hidden
  if (!grafts.attached && !moving(grafts))
    found.push(...after(grafts, 'word', events.word, `last word ${dayText(events.word, day)}: look how they stand`));
  return earliest(found);
}

export const signWords = { dry: 'found dry', mould: 'mould seen', wet: 'found wet' } as const;

const after = (grafts: Case, event: string, on: Day, why: string): readonly Task[] => {
  const rule = grafts.rule('look', event, on);
  const window = rule && grafts.window(rule, on);
  return window ? [task('look', window, rule, why)] : [];
};

/** One visit does for all of them: the one that has to be made first. */
export const earliest = (tasks: readonly Task[]): readonly Task[] =>
  tasks.toSorted((a, b) => a.by - b.by || a.from - b.from).slice(0, 1);

/** Seen swelling, or further: from here on the calendar is the plant's. */
export const moving = ({ cohort: { swell, free, take } }: Case) =>
  swell !== undefined || free !== undefined || take !== undefined;

/** Watching for the buds to swell; a summer slept through gives way to the next spring. */
export function watch(grafts: Case): readonly Task[] {
  if (moving(grafts)) return [];
  const { cohort, day } = grafts;
  const rule = grafts.rule('watch', 'graft', cohort.madeDay);
  const window = rule && grafts.window(rule, cohort.madeDay);
  if (!window) return [];
  const within = rule.within && stretchesOf(rule.within, rule, grafts.year(cohort.madeDay));
  const passed = (within && runningOn(window.from, within)?.by) ?? window.by;
  const again = day > passed ? grafts.rule('watch', 'watch', passed) : undefined;
  const next = again && grafts.window(again, passed);
  const [due, by, why] = next
    ? [next, again, 'no bud moved in the first season: it may in this spring']
    : [window, rule, `grafted ${dayText(cohort.madeDay, day)}: time for the buds to swell`];
  const own = expectedOf(grafts, by, due);
  return [task('watch', own?.window ?? due, by, own?.why ?? why)];
}

/**
 * By the nursery's own seasons, where the shipped calendar speaks: days after grafting, and a nursery's own line, stand
 * as they are. With too few seasons the calendar holds and says so.
 */
function expectedOf({ env, cohort, subject }: Case, rule: PracticeRow, due: Window) {
  if (!env.weather || !rule.shipped || rule.wait?.kind !== 'dates') return undefined;
  const base = env.practice.figure('degree-base', onDay(subject, due.from))?.figure;
  const own = base === undefined ? undefined : env.weather.swelling(cohort, due.from, base);
  if (!own) return undefined;
  const grafted = `grafted ${dayText(cohort.madeDay, env.day)}`;
  const { band, window, seasons, asked } = own;
  if (!band || !window)
    return seasons < asked
      ? {
          window: due,
          why: `${grafted}: by the calendar, ${seasons} of ${countText(asked, 'season')} of this pair on record`,
        }
      : undefined;
  const [low, high] = [Math.round(band.low), Math.round(band.high)];
  const warmth = `${low === high ? low : `${low}–${high}`}\u00A0°C·d`;
  const from = Math.max(window.from, cohort.madeDay);
  return {
    window: { from, by: Math.max(window.by, from) },
    why: `${grafted}: in ${countText(seasons, 'season')} on record this pair swelled at ${warmth}`,
  };
}

/** Buds that the batch's first swelling left behind, and the buds of budders. Stalled grafts stand with their opening. */
export function judge(grafts: Case): readonly Task[] {
  const { cohort, day, events } = grafts;
  if (cohort.take !== undefined) return [];
  const found: Task[] = [];
  if (!moving(grafts) && events.firstSwell !== undefined) {
    const rule = grafts.rule('judge', 'first-swell', events.firstSwell);
    const window = rule && grafts.window(rule, events.firstSwell);
    if (window)
      found.push(
        task(
          'judge',
          window,
          rule,
          `the first of the batch swelled ${dayText(events.firstSwell, day)}, and these have not moved`,
        ),
      );
  }
  const rule = grafts.rule('judge', 'graft', cohort.madeDay);
  const window = rule && grafts.window(rule, cohort.madeDay);
  if (window) {
    const made = isBud(cohort.method) ? 'budded' : 'grafted';
    found.push(task('judge', window, rule, `${made} ${dayText(cohort.madeDay, day)}: green or dry?`));
  }
  return earliest(found);
}
