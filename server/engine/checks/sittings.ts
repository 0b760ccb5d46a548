import type { Intervals } from '#grammar/statement.ts';
import { contains, normalize } from '#grammar/values/intervals.ts';
import type { BatchHistory, Cohort, Entry } from '../model.ts';
import { subjectOf } from '../subject.ts';
import type { CheckEnv, Sitting } from './case.ts';

/**
 * Grafts of one line are asked about their facts together, but for those that practice or `accept` lines name apart:
 * the history has cut them along such lines.
 */
export function sittingsOf(history: BatchHistory, env: CheckEnv): Sitting[] {
  const named = [...env.practice.setsOf(history.batch.key), ...env.accepts.setsOf(history.batch.key)];
  const byLine = new Map<Entry, Cohort[][]>();
  for (const cohort of history.cohorts) {
    const parts = byLine.get(cohort.made) ?? [];
    byLine.set(cohort.made, parts);
    const like = named.length === 0 ? parts[0] : parts.find(([other]) => other && sameSets(other, cohort, named));
    if (like) like.push(cohort);
    else parts.push([cohort]);
  }
  return [...byLine.values()].flat().flatMap((cohorts) => {
    const [cohort] = cohorts;
    if (!cohort) return [];
    const lot = env.lots.ofCohort(cohort);
    const numbers = cohorts.length === 1 ? cohort.numbers : normalize(cohorts.flatMap((one) => one.numbers));
    return {
      history,
      cohorts,
      cohort,
      numbers,
      made: cohort.made,
      day: cohort.madeDay,
      subject: subjectOf(cohort, cohort.madeDay, env.log, env.lots, numbers),
      fact: (key) => cohort.fact(key) ?? lot?.fact(key),
    } satisfies Sitting;
  });
}

const sameSets = (a: Cohort, b: Cohort, sets: readonly Intervals[]): boolean =>
  sets.every((set) => contains(set, a.numbers[0] ?? 0) === contains(set, b.numbers[0] ?? 0));
