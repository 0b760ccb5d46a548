import type { Day, Intervals } from '#grammar/statement.ts';
import { latitudeOf, noCover, placeCover, stayOn } from './cover.ts';
import type { Log } from './log.ts';
import { type Lots, storedAt } from './lots.ts';
import type { AskedWood, Cohort, Cover, Found } from './model.ts';
import { eventDay } from './practice-events.ts';
import { kindOf, type Range, type Subject } from './practice-subject.ts';

/**
 * Grafts as practice is asked about them on a day; `onDay` gives them on another one.
 * @param numbers of all that are asked about together, where they are more than the cohort
 */
export function subjectOf(
  cohort: Cohort,
  day: Day,
  log: Log,
  lots: Lots,
  numbers: Intervals = cohort.numbers,
): Subject {
  let { wood } = cohort;
  if (wood?.lots !== lots) {
    wood = woodOf(cohort, lots);
    cohort.wood = wood;
  }
  return new CohortSubject(day, cohort, numbers, wood, log);
}

/** Grafts below one another are mostly alike in this: one answer serves them all. Of lots that are gone none is held. */
const lastOf = new WeakMap<Lots, AskedWood>();

function woodOf(cohort: Cohort, lots: Lots): AskedWood {
  const lot = lots.ofCohort(cohort);
  const thick = thicknessOf(cohort.fact('scion') ?? lot?.fact('scion'));
  const store = lot && storedAt(lot, cohort.madeDay);
  const kind = kindOf(cohort);
  const last = lastOf.get(lots);
  const same =
    last?.kind === kind &&
    last.collected === lot?.day &&
    last.thick?.low === thick?.low &&
    last.thick?.high === thick?.high &&
    last.store?.low === store?.low &&
    last.store?.high === store?.high;
  if (last && same) return last;
  const wood: AskedWood = { lots, kind, thick, collected: lot?.day, store };
  lastOf.set(lots, wood);
  return wood;
}

/** Made for each question, so it holds no more than where to ask. */
class CohortSubject implements Subject {
  readonly day: Day;
  readonly numbers: Intervals;
  private readonly cohort: Cohort;
  private readonly wood: AskedWood;
  private readonly log: Log;

  constructor(day: Day, cohort: Cohort, numbers: Intervals, wood: AskedWood, log: Log) {
    this.day = day;
    this.cohort = cohort;
    this.numbers = numbers;
    this.wood = wood;
    this.log = log;
  }

  get batch() {
    return this.cohort.batch.key;
  }

  get method() {
    return this.cohort.method;
  }

  get scion() {
    return this.cohort.scion;
  }

  get group() {
    return this.cohort.group;
  }

  get potted() {
    return this.cohort.potted;
  }

  get made() {
    return this.cohort.madeDay;
  }

  get kind() {
    return this.wood.kind;
  }

  get thick() {
    return this.wood.thick;
  }

  get collected() {
    return this.wood.collected;
  }

  get store() {
    return this.wood.store;
  }

  lat(on: Day) {
    return latitudeOf((stayOn(this.cohort, on) ?? this.cohort.stays[0])?.place, this.log);
  }

  flags(on: Day): ReadonlySet<Cover> {
    const place = stayOn(this.cohort, on)?.place;
    return place === undefined ? noCover : placeCover(place, on, this.log);
  }

  event(name: string, on: Day) {
    return eventDay(this.cohort, name, on);
  }

  onDay(day: Day): Subject {
    return new CohortSubject(day, this.cohort, this.numbers, this.wood, this.log);
  }
}

/** How thick the scion is, mm. */
export function thicknessOf(found: Found | undefined): Range | undefined {
  const value = found?.fact.value;
  if (!found || found.fact.lost || value?.kind !== 'size') return undefined;
  const { across } = value;
  return across?.low === undefined || across.high === undefined ? undefined : { low: across.low, high: across.high };
}
