import type { Day } from '#grammar/statement.ts';
import { between, staysTill } from '../checks/place-lines.ts';
import { placeCover } from '../cover.ts';
import { onDay } from '../practice-subject.ts';
import type { Case } from './case.ts';

/**
 * The last freezing night where untaken grafts stood that nobody has written since: read there, or known from a station
 * where nothing keeps the frost off. A reading is a word itself, so only those of the last word's day can still wait.
 */
export function seenFrost(grafts: Case): Day | undefined {
  const { cohort, env, events, day } = grafts;
  if (cohort.take !== undefined) return undefined;
  let frost: Day | undefined;
  for (const { stay, from, to } of staysTill(cohort, day)) {
    const { place } = stay;
    if (place === undefined || to < events.word) continue;
    const since = Math.max(from, events.word);
    const read = between(env.places.readings(place), since, to);
    for (const { day: on, min } of read)
      if (min !== undefined && freezes(grafts, on, min)) frost = Math.max(frost ?? on, on);
    for (const { day: on, min } of between(env.weather?.nights(place) ?? [], since, to)) {
      if (read.some((reading) => reading.day === on) || !freezes(grafts, on, min)) continue;
      if (!placeCover(place, on, env.log).has('frost-free')) frost = Math.max(frost ?? on, on);
    }
  }
  return frost;
}

function freezes({ env, subject }: Case, on: Day, min: number): boolean {
  return env.practice
    .limits('frost', onDay(subject, on))
    .some(({ low, high }) => min < (high ?? low ?? Number.NEGATIVE_INFINITY));
}
