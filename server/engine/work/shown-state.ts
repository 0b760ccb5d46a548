import type { WorkItem, WorkState } from '../model.ts';

/** Work that waits is never overdue to a reader: past its `by` it stands under Due and says how late it is. */
export function shownState(item: Pick<WorkItem, 'state' | 'waits'>): WorkState {
  return item.state === 'overdue' && item.waits ? 'due' : item.state;
}
