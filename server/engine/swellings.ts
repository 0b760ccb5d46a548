import type { Day } from '#grammar/statement.ts';
import { size } from '#grammar/values/intervals.ts';
import { sumOfDegreeDays } from '#server/weather/degree-days.ts';
import type { StationDay } from '#server/weather/station.ts';
import {
  type SwellingBand,
  seasonStart,
  seasonsAsked,
  swellingBand,
  swellingWindow,
} from '#server/weather/swelling.ts';
import { latitudeOf, placeCover } from './cover.ts';
import type { Histories } from './histories.ts';
import type { BatchHistory, Cohort } from './model.ts';
import { isSouth } from './practice-year.ts';
import { seasonOf, type Window } from './year.ts';

/** When a pair's buds may be expected, by the seasons the nursery has of it. */
export interface ExpectedSwelling {
  /** Seasons on record, and how many are asked for. */
  readonly seasons: number;
  readonly asked: number;
  /** Both absent where the seasons are too few, or the station has gaps. */
  readonly band?: SwellingBand;
  readonly window?: Window;
}

interface Seen {
  readonly day: Day;
  readonly count: number;
}

/**
 * Swellings on record, by pair: of grafts that slept through the winter unheated, as all others move by another clock.
 * Read from all histories when first asked for, then kept up batch by batch.
 */
export class Swellings {
  readonly #histories: Histories;
  readonly #daysOf: (place: string) => readonly StationDay[];
  #seen: Map<string, ReadonlyMap<string, readonly Seen[]>> | undefined;
  readonly #expected = new Map<string, ExpectedSwelling | undefined>();

  constructor(histories: Histories, daysOf: (place: string) => readonly StationDay[]) {
    this.#histories = histories;
    this.#daysOf = daysOf;
  }

  /** In the season a day lies in. */
  expected(cohort: Cohort, on: Day, base: number): ExpectedSwelling | undefined {
    const pair = pairOf(cohort);
    if (pair === undefined) return undefined;
    const { log, day: today } = this.#histories;
    const place = cohort.stays.at(-1)?.place;
    const south = isSouth(latitudeOf(place, log));
    const start = seasonStart(on, south);
    const key = [place ?? '', pair, base, start].join('|');
    if (!this.#expected.has(key)) {
      const days = this.#daysOf(place ?? '');
      this.#expected.set(key, days.length === 0 ? undefined : this.#worked(pair, days, base, start, south, today));
    }
    return this.#expected.get(key);
  }

  #worked(
    pair: string,
    days: readonly StationDay[],
    base: number,
    start: Day,
    south: boolean,
    today: Day,
  ): ExpectedSwelling {
    const seen = this.#all(pair).flatMap(({ day, count }) => {
      const season = seasonStart(day, south);
      const degreeDays = sumOfDegreeDays(days, base, season, day);
      return degreeDays === undefined ? [] : [{ season, degreeDays, count }];
    });
    const seasons = new Set(seen.map(({ season }) => season)).size;
    const band = swellingBand(seen);
    const window = band && swellingWindow(band, days, base, start, today);
    return { seasons, asked: seasonsAsked, ...(band && window ? { band, window } : {}) };
  }

  #all(pair: string): readonly Seen[] {
    if (!this.#seen) {
      this.#seen = new Map();
      for (const batch of this.#histories.log.names.batches()) this.#read(batch);
    }
    return [...this.#seen.values()].flatMap((pairs) => pairs.get(pair) ?? []);
  }

  #read(batch: string): ReadonlyMap<string, readonly Seen[]> {
    const pairs = swellingsOf(this.#histories.of(batch), this.#histories.log);
    if (pairs.size > 0) this.#seen?.set(batch, pairs);
    else this.#seen?.delete(batch);
    return pairs;
  }

  /** Batches were read anew: gives the pairs of which another swelling is on record now. */
  apply(batches: Iterable<string>): ReadonlySet<string> {
    const changed = new Set<string>();
    if (!this.#seen) return changed;
    for (const batch of batches) {
      const before = this.#seen.get(batch) ?? none;
      const now = this.#read(batch);
      for (const pair of new Set([...before.keys(), ...now.keys()]))
        if (!alike(before.get(pair) ?? [], now.get(pair) ?? [])) changed.add(pair);
    }
    if (changed.size > 0) this.#expected.clear();
    return changed;
  }

  /** Another station, or another hemisphere, holds for a place. */
  reset(): void {
    this.#expected.clear();
  }
}

const none: ReadonlyMap<string, readonly Seen[]> = new Map();
const alike = (a: readonly Seen[], b: readonly Seen[]): boolean =>
  a.length === b.length && a.every(({ day, count }, i) => day === b[i]?.day && count === b[i]?.count);

/** Scion on understock, as far as both are told. */
export function pairOf({ scion, stock }: Cohort): string | undefined {
  return scion && stock ? `${scion.text} / ${stock.text}`.normalize('NFC').toLowerCase() : undefined;
}

function swellingsOf(history: BatchHistory, log: Histories['log']): ReadonlyMap<string, readonly Seen[]> {
  const pairs = new Map<string, Seen[]>();
  for (const cohort of history.cohorts) {
    const { swell } = cohort;
    const pair = pairOf(cohort);
    if (swell === undefined || pair === undefined || !sleptTill(swell, cohort, log)) continue;
    // out of the wrap it has swollen, too, but nobody saw when
    if (!cohort.named.some(({ verb, day, undivided }) => verb === 'swell' && day === swell && !undivided)) continue;
    pairs.set(pair, [...(pairs.get(pair) ?? []), { day: swell, count: size(cohort.numbers) }]);
  }
  return pairs;
}

/** Made in autumn or winter and kept unheated till its first spring. */
function sleptTill(swell: Day, { madeDay, stays }: Cohort, log: Histories['log']): boolean {
  if (swell - madeDay > 365) return false;
  const season = seasonOf(madeDay, latitudeOf(stays[0]?.place, log));
  if (season !== 'autumn' && season !== 'winter') return false;
  return stays.every(
    ({ place, day }) => day > swell || place === undefined || !placeCover(place, day, log).has('heated'),
  );
}
