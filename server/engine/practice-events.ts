import type { Day } from '#grammar/statement.ts';
import { factOf } from './facts.ts';
import type { Cohort, Visit } from './model.ts';

/**
 * The day of an event in a cohort's history, on or before a day: of `swell`, `free` and `take` the first, of all others
 * the last. Days that only other grafts, the season or the thermometer tell (`first-swell`,
 * `growth`, `frost`) are the asker's.
 */
export function eventDay(cohort: Cohort, event: string, day: Day): Day | undefined {
  const by = (found: Day | undefined) => (found !== undefined && found <= day ? found : undefined);
  switch (event) {
    case 'graft':
      return by(cohort.madeDay);
    case 'swell':
    case 'free':
    case 'take':
      return by(cohort[event]);
    case 'word':
      return last(cohort.visits, day, () => true);
    case 'first-open':
      return firstOpen(cohort, day);
    case 'headback':
      // up to the grafting day it prepares the stock
      return last(cohort.named, day, (visit) => visit.verb === 'headback' && visit.day > cohort.madeDay);
    default:
      return last(cohort.visits, day, (visit) => visit.verb === event || seen(visit, event));
  }
}

/** Whether a visit looked and found this: a flag of `check`. */
export const seen = (visit: Visit, flag: string): boolean =>
  visit.verb === 'check' && factOf(visit.statement, flag as Parameters<typeof factOf>[1]) !== undefined;

/** The first step; after a `rewrap` the first since. */
function firstOpen(cohort: Cohort, day: Day): Day | undefined {
  let first: Day | undefined;
  for (const visit of cohort.named) {
    if (visit.day > day) break;
    if (visit.verb === 'rewrap') first = undefined;
    if (visit.verb === 'open') first ??= visit.day;
  }
  return first;
}

function last(visits: readonly Visit[], day: Day, is: (visit: Visit) => boolean): Day | undefined {
  return visits.findLast((visit) => visit.day <= day && !visit.undivided && is(visit))?.day;
}
