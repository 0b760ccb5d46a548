import type { Day } from '#grammar/statement.ts';
import { latitudeOf, placeCover, stayOn } from './cover.ts';
import type { Log } from './log.ts';
import { type Lots, storedAt } from './lots.ts';
import type { Cohort, Cover, Found } from './model.ts';
import { eventDay } from './practice-events.ts';
import { kindOf, onDay, type Range, type Subject } from './practice-subject.ts';

/** Grafts as practice is asked about them on a day; `onDay` gives them on another one. */
export function subjectOf(cohort: Cohort, day: Day, log: Log, lots: Lots): Subject {
  const subjects = known.get(lots) ?? new WeakMap<Cohort, Subject>();
  known.set(lots, subjects);
  let subject = subjects.get(cohort);
  if (!subject) {
    subject = onMadeDay(cohort, log, lots);
    subjects.set(cohort, subject);
  }
  return onDay(subject, day);
}

/** Worked out once a cohort; the lots are looked up anew after every edit. */
const known = new WeakMap<Lots, WeakMap<Cohort, Subject>>();

function onMadeDay(cohort: Cohort, log: Log, lots: Lots): Subject {
  const lot = lots.ofCohort(cohort);
  const thick = thicknessOf(cohort.fact('scion') ?? lot?.fact('scion'));
  const store = lot && storedAt(lot, cohort.madeDay);
  const { batch, numbers, method, scion, group, potted, madeDay } = cohort;
  return {
    day: madeDay,
    kind: kindOf(cohort),
    batch: batch.key,
    numbers,
    ...(method ? { method } : {}),
    ...(scion ? { scion } : {}),
    ...(group ? { group } : {}),
    potted,
    ...(thick ? { thick } : {}),
    made: madeDay,
    ...(lot?.day === undefined ? {} : { collected: lot.day }),
    ...(store ? { store } : {}),
    lat: (on) => latitudeOf((stayOn(cohort, on) ?? cohort.stays[0])?.place, log),
    flags: (on) => {
      const place = stayOn(cohort, on)?.place;
      return place === undefined ? noCover : placeCover(place, on, log);
    },
    event: (name, on) => eventDay(cohort, name, on),
  };
}

const noCover: ReadonlySet<Cover> = new Set();

/** How thick the scion is, mm. */
export function thicknessOf(found: Found | undefined): Range | undefined {
  const value = found?.fact.value;
  if (!found || found.fact.lost || value?.kind !== 'size') return undefined;
  const { across } = value;
  return across?.low === undefined || across.high === undefined ? undefined : { low: across.low, high: across.high };
}
