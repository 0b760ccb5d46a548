import type { Day } from '#grammar/statement.ts';
import type { Work, WorkItem, WorkState } from '../model.ts';
import type { PracticeRow } from '../practice-rows.ts';
import type { Window } from '../year.ts';
import type { Case } from './case.ts';

/** A piece of work for the grafts of one case, before like pieces are joined. */
export interface Task {
  readonly what: Work;
  readonly from: Day;
  readonly by: Day;
  readonly to: WorkItem['to'];
  readonly why: string;
  /** The practice line behind it. */
  readonly rule: PracticeRow;
  readonly waits: boolean;
  /** Never an `overdue` finding, as another finding says it already. */
  readonly said: boolean;
  /** Which `task` line tells its minutes, where that is not the work's own word. */
  readonly timed?: string;
  readonly renews?: WorkItem['renews'];
}

type More = Partial<Pick<Task, 'to' | 'said' | 'timed' | 'waits' | 'renews'>>;

export const task = (what: Work, { from, by }: Window, rule: PracticeRow, why: string, more: More = {}): Task => ({
  what,
  from,
  by,
  to: more.to ?? null,
  why,
  rule,
  waits: more.waits ?? !rule.urgent,
  said: more.said ?? false,
  ...(more.timed ? { timed: more.timed } : {}),
  ...(more.renews ? { renews: more.renews } : {}),
});

/** Days before its window opens in which work is told as coming soon: house default. */
const soonDays = 7;

export function stateOn(day: Day, { from, by }: Window): WorkState {
  if (day > by) return 'overdue';
  if (day >= from) return 'due';
  return from - day <= soonDays ? 'soon' : 'later';
}

/** A chain of work: what of it is next for these grafts. */
export type Chain = (grafts: Case) => readonly Task[];
