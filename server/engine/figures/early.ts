import type { Cohort } from '../model.ts';
import { subjectOf } from '../subject.ts';
import type { FiguresEnv } from './env.ts';

/** Days from grafting from which a take is told for sure; none asked, none is early. */
export function earliestTake(cohort: Cohort, { practice, log, lots }: FiguresEnv): number {
  const waits = practice.earliest('take', subjectOf(cohort, cohort.madeDay, log, lots));
  const wait = waits.find(({ event }) => event === 'graft')?.wait;
  return wait?.kind === 'amount' ? (wait.low ?? 0) : 0;
}
