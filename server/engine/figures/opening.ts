import type { Day, Intervals } from '#grammar/statement.ts';
import { greatest, least } from '#grammar/values/extremes.ts';
import { intersect, size, union } from '#grammar/values/intervals.ts';
import { stayOn } from '../cover.ts';
import { shareOf } from '../facts.ts';
import { graftsText } from '../grafts-text.ts';
import type { Log } from '../log.ts';
import type { BatchHistory, Cohort, WorkItem } from '../model.ts';
import { shownState } from '../work/shown-state.ts';

/** How the wrap of a set was opened, step by step, and what is next. */
export interface Opening {
  readonly batch: string;
  /** The living of one past: `K26.1..11`. */
  readonly grafts: string;
  readonly count: number;
  readonly place: string | null;
  /** When buds were first seen to move. */
  readonly swell: Day | null;
  /** How much is open from a day on, 0..1; 0 where it was wrapped again. */
  readonly steps: readonly { readonly day: Day; readonly share: number }[];
  /** Days on which they came free of the wrap, and how many have. */
  readonly free: { readonly first: Day; readonly last: Day; readonly count: number } | null;
  readonly next: {
    readonly from: Day;
    readonly by: Day;
    readonly state: WorkItem['state'];
    readonly to: WorkItem['to'];
  } | null;
}

interface Growing {
  readonly cohorts: Cohort[];
  numbers: Intervals;
}

/**
 * Sets whose wrap was opened in a stretch of days or is to be opened next: grafts of a batch that were opened alike are
 * one. The lost are left out; of lines that don't say which, none counts as a step.
 */
export function openingsOf(
  histories: readonly BatchHistory[],
  work: readonly WorkItem[],
  { from, to, log }: { readonly from: Day; readonly to: Day; readonly log: Log },
): Opening[] {
  const steps = work.filter(({ what, to: share }) => what === 'open' && share !== null);
  return histories.flatMap(({ batch, cohorts }) => {
    const own = steps.filter((item) => item.batch.key === batch.key);
    const sets = new Map<string, Growing>();
    for (const cohort of cohorts) {
      if (cohort.fail) continue;
      const next = own.find(({ numbers }) => intersect(numbers, cohort.numbers).length > 0);
      const past = stepsOf(cohort);
      if (!next && !past.some(({ day }) => day >= from && day <= to)) continue;
      const id = JSON.stringify([cohort.swell, past, next?.from, next?.by]);
      const known = sets.get(id) ?? { cohorts: [], numbers: [] };
      known.cohorts.push(cohort);
      known.numbers = union(known.numbers, cohort.numbers);
      sets.set(id, known);
    }
    return [...sets.values()].map((set) => openingOf(set, own, to, log));
  });
}

function openingOf({ cohorts, numbers }: Growing, work: readonly WorkItem[], today: Day, log: Log): Opening {
  const [first] = cohorts as [Cohort, ...Cohort[]];
  const next = work.find((item) => intersect(item.numbers, numbers).length > 0);
  const freed = cohorts.filter(({ free }) => free !== undefined);
  const days = freed.map(({ free }) => free as Day);
  const place = stayOn(first, today)?.place;
  return {
    batch: first.batch.name,
    grafts: graftsText(first.batch, numbers),
    count: size(numbers),
    place: place === undefined ? null : (log.names.declared(place)?.name ?? place),
    swell: first.swell ?? null,
    steps: stepsOf(first),
    free:
      days.length === 0
        ? null
        : {
            first: least(days),
            last: greatest(days),
            count: freed.reduce((sum, cohort) => sum + size(cohort.numbers), 0),
          },
    next: next ? { from: next.from, by: next.by, state: shownState(next), to: next.to } : null,
  };
}

function stepsOf({ named }: Cohort): Opening['steps'] {
  let open = 0;
  return named.flatMap(({ verb, day, statement, undivided }) => {
    if (undivided || (verb !== 'open' && verb !== 'rewrap')) return [];
    const share = verb === 'rewrap' ? 0 : shareOf(statement);
    // a wrap that shrank is a slip, and the step before it holds
    if (share === undefined || (verb === 'open' && share < open)) return [];
    open = share;
    return [{ day, share }];
  });
}
