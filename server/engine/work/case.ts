import type { Day } from '#grammar/statement.ts';
import { type Events, eventsOf } from '../events.ts';
import type { BatchHistory, Cohort, Work } from '../model.ts';
import type { PracticeRow } from '../practice-rows.ts';
import { isDetached, onDay, type Subject } from '../practice-subject.ts';
import { subjectOf } from '../subject.ts';
import { growthFrom, type PlaceYear, placeYear, type Window, windowAfter } from '../year.ts';
import type { WorkEnv } from './env.ts';

/** Grafts of one history, and all that their work is worked out from. */
export interface Case {
  readonly cohort: Cohort;
  readonly history: BatchHistory;
  readonly env: WorkEnv;
  readonly day: Day;
  readonly events: Events;
  readonly subject: Subject;
  /** Fed by its own roots: neither bud nor scion cut off its plant. */
  readonly attached: boolean;
  readonly detached: boolean;
  /** The closest line for this work after this event, on the day of the event. */
  rule(what: Work, event: string, on: Day): PracticeRow | undefined;
  window(rule: PracticeRow, on: Day, outside?: 'wait' | 'drop'): Window | undefined;
  /** The calendar where they stood on a day. */
  year(on: Day): PlaceYear;
  /** Their swelling; unseen, the growth that counts for grafts of that day. */
  growth(): Day | undefined;
}

export function caseOf(cohort: Cohort, history: BatchHistory, env: WorkEnv): Case {
  const { day, log, practice } = env;
  const subject = subjectOf(cohort, day, log, env.lots);
  const year = (on: Day) => {
    const place = (cohort.stays.findLast((stay) => stay.day <= on) ?? cohort.stays[0])?.place;
    return placeYear(practice, onDay(subject, on), place === undefined ? undefined : env.weather?.frostDates(place));
  };
  return {
    cohort,
    history,
    env,
    day,
    events: eventsOf(cohort, history, log, env.places, day),
    subject,
    attached: cohort.method === 'approach' || cohort.method === 'thread',
    detached: isDetached(cohort.method),
    rule: (what, event, on) => practice.work(what, event, onDay(subject, on))?.row,
    window: (rule, on, outside) => windowAfter(on, rule, year(on), outside),
    year,
    growth: () => cohort.swell ?? growthFrom(cohort.madeDay, year(cohort.madeDay)),
  };
}
