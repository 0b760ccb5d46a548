import type { WorkList, WorkRow } from '#server/lsp/protocol.ts';

export type Grouping = 'when' | 'place' | 'batch' | 'hand';

export interface WorkGroup {
  readonly by: Grouping;
  readonly key: string;
  readonly label: string;
  readonly rows: readonly WorkRow[];
}

const states = [
  ['overdue', 'Overdue'],
  ['due', 'Due'],
  ['soon', 'Soon'],
  ['later', 'Later'],
] as const;

/** Groups in reading order, only those that hold something; rows as the server sorted them, earliest `by` first. */
export function groupRows(lists: readonly WorkList[], by: Grouping): WorkGroup[] {
  const rows = lists.flatMap((list) => list.rows);
  if (by === 'when')
    return states
      .map(([key, label]) => ({ by, key, label, rows: rows.filter((row) => shownState(row) === key) }))
      .filter((group) => group.rows.length > 0);
  const unnamed = { place: 'No place noted', batch: 'No batch', hand: 'Nobody noted' }[by];
  const groups = new Map<string, WorkRow[]>();
  for (const row of rows) {
    const key = row[by] ?? '';
    const group = groups.get(key);
    if (group) group.push(row);
    else groups.set(key, [row]);
  }
  return [...groups]
    .sort(([a], [b]) => Number(a === '') - Number(b === '') || a.localeCompare(b, 'en', { numeric: true }))
    .map(([key, members]) => ({ by, key, label: key || unnamed, rows: members }));
}

/** Work that waits is never overdue to a reader: past its `by` it is due, and says how late it is. */
export function shownState(row: WorkRow): WorkRow['state'] {
  return row.state === 'overdue' && row.waits ? 'due' : row.state;
}
