import type { WorkList, WorkRow } from '#server/lsp/protocol.ts';

export const groupings = ['when', 'place', 'batch', 'hand'] as const;
export type Grouping = (typeof groupings)[number];

/** A row with the name of its log, where several logs are open: `K26` of one is not `K26` of the other. */
export interface ShownRow extends WorkRow {
  readonly log: string | null;
}

export interface WorkGroup {
  readonly by: Grouping;
  readonly key: string;
  readonly label: string;
  readonly rows: readonly ShownRow[];
}

const states = [
  ['overdue', 'Overdue'],
  ['due', 'Due'],
  ['soon', 'Soon'],
  ['later', 'Later'],
] as const;

/** All rows as the server sorted them, earliest `by` first within a log. */
export function rowsOf(lists: readonly WorkList[]): ShownRow[] {
  const several = lists.filter((list) => list.files > 0).length > 1;
  return lists.flatMap((list) => list.rows.map((row) => ({ ...row, log: several ? list.name : null })));
}

/** Rows in which each word of the filter stands: a batch, a place, a hand, a job, `late`. */
export function filtered(rows: readonly ShownRow[], filter: string): readonly ShownRow[] {
  const words = filter.toLowerCase().split(/\s+/).filter(Boolean);
  if (words.length === 0) return rows;
  return rows.filter((row) => {
    const { batch, grafts, title, place, hand, when, log } = row;
    const text = [batch, grafts, title, place, hand, when, shownState(row), log].join(' ').toLowerCase();
    return words.every((word) => text.includes(word));
  });
}

/** Groups in reading order, only those that hold something. Names of two logs are two groups. */
export function groupRows(rows: readonly ShownRow[], by: Grouping): WorkGroup[] {
  if (by === 'when')
    return states
      .map(([key, label]) => ({ by, key, label, rows: rows.filter((row) => shownState(row) === key) }))
      .filter((group) => group.rows.length > 0);
  const unnamed = { place: 'No place noted', batch: 'No batch', hand: 'Nobody noted' }[by];
  const groups = new Map<string, { name: string; log: string | null; rows: ShownRow[] }>();
  for (const row of rows) {
    const name = row[by] ?? '';
    const key = row.log === null ? name : `${name}\n${row.log}`;
    const group = groups.get(key);
    if (group) group.rows.push(row);
    else groups.set(key, { name, log: row.log, rows: [row] });
  }
  const order = (a: string, b: string) =>
    Number(a === '') - Number(b === '') || a.localeCompare(b, 'en', { numeric: true });
  return [...groups]
    .sort(([, a], [, b]) => order(a.name, b.name) || order(a.log ?? '', b.log ?? ''))
    .map(([key, { name, log, rows: members }]) => {
      const label = name || unnamed;
      return { by, key, label: log === null ? label : `${label} · ${log}`, rows: members };
    });
}

/** Work that waits is never overdue to a reader: past its `by` it is due, and says how late it is. */
export function shownState(row: WorkRow): WorkRow['state'] {
  return row.state === 'overdue' && row.waits ? 'due' : row.state;
}
