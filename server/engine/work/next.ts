import { forgotten } from '../checks/attention.ts';
import type { BatchHistory, Work } from '../model.ts';
import { again, headback, sever, suckers, take, tie, untie } from './after.ts';
import { type Case, caseOf } from './case.ts';
import type { WorkEnv } from './env.ts';
import { join, type Listed, type Piece } from './join.ts';
import { earliest, judge, looks, watch } from './look.ts';
import { opening } from './open.ts';
import { others } from './other.ts';
import { cover, shade } from './shelter.ts';
import type { Chain, Task } from './task.ts';

/** Work that is the same for all of a set, whichever of them a count spoke of. */
const unnamed: readonly Chain[] = [looks, cover, shade];
const chains: readonly Chain[] = [...unnamed, watch, opening, judge, take, tie, headback, untie, suckers, sever, again];

/**
 * The work that is next for a batch: every chain of practice that a graft has come to, with its window, its reason and
 * the line behind it. What ends each is code, from when and by when are practice lines. Sorted by window.
 */
export function nextWork(history: BatchHistory, env: WorkEnv): readonly Listed[] {
  // after three years without a line a batch is history
  if (forgotten(history, env)) return [];
  const pieces: Piece[] = [];
  for (const cohort of history.cohorts) {
    if (cohort.fail || cohort.sold !== undefined) continue;
    const grafts = caseOf(cohort, history, env);
    const minutes = ({ what, timed }: Task) => env.practice.minutes(timed ?? what, grafts.subject) ?? 0;
    for (const task of tasksOf(grafts)) pieces.push({ task, cohort, minutes: minutes(task) });
  }
  return join(pieces, history, env);
}

/** What is next, once for each kind of work; cover has two reasons, which are two jobs. */
function tasksOf(grafts: Case): readonly Task[] {
  const found = (grafts.cohort.undivided ? unnamed : chains).flatMap((chain) => chain(grafts));
  const more = grafts.cohort.undivided ? [] : others(grafts);
  if (more.length === 0) return found;
  const tasks = new Map<Work, Task[]>();
  for (const task of [...found, ...more]) tasks.set(task.what, [...(tasks.get(task.what) ?? []), task]);
  return [...tasks].flatMap(([what, same]) => (what === 'cover' ? same : earliest(same)));
}
