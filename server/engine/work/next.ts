import type { BatchHistory, WorkItem } from '../model.ts';
import { again, headback, isHistory, sever, suckers, take, tie, untie } from './after.ts';
import { caseOf } from './case.ts';
import type { WorkEnv } from './env.ts';
import { join, type Listed, type Piece } from './join.ts';
import { judge, looks, watch } from './look.ts';
import { opening } from './open.ts';
import { cover, shade } from './shelter.ts';
import type { Chain, Task } from './task.ts';

/** Work that is the same for all of a set, whichever of them a count spoke of (decided 22). */
const unnamed: readonly Chain[] = [looks, cover, shade];
const chains: readonly Chain[] = [...unnamed, watch, opening, judge, take, tie, headback, untie, suckers, sever, again];

/**
 * The work that is next for a batch: every chain of practice that a graft has come to, with its window, its reason and
 * the line behind it. What ends each is code, from when and by when are practice lines. Sorted by window.
 */
export function nextWork(history: BatchHistory, env: WorkEnv): readonly WorkItem[] {
  return listed(history, env);
}

export function listed(history: BatchHistory, env: WorkEnv): readonly Listed[] {
  const pieces: Piece[] = [];
  for (const cohort of history.cohorts) {
    if (cohort.fail || cohort.sold !== undefined) continue;
    const grafts = caseOf(cohort, history, env);
    if (isHistory(grafts)) continue;
    const minutes = ({ what, timed }: Task) => env.practice.minutes(timed ?? what, grafts.subject) ?? 0;
    for (const chain of cohort.undivided ? unnamed : chains)
      for (const task of chain(grafts)) pieces.push({ task, cohort, minutes: minutes(task) });
  }
  return join(pieces, history, env);
}
