import { ThemeColor, ThemeIcon, TreeItem, TreeItemCollapsibleState, Uri } from 'vscode';
import type { WorkRow } from '#server/lsp/protocol.ts';
import { type Grouping, type ShownRow, shownState, type WorkGroup } from './work-groups.ts';

const stateIcons = { overdue: 'warning', due: 'circle-large', soon: 'calendar', later: 'history' } as const;
const groupIcons = { place: 'location', batch: 'package', hand: 'person' } as const;

export function groupItem(group: WorkGroup): TreeItem {
  const open = group.key === 'later' ? TreeItemCollapsibleState.Collapsed : TreeItemCollapsibleState.Expanded;
  const item = new TreeItem(group.label, open);
  item.id = `group ${group.by} ${group.key}`;
  item.description = String(group.rows.length);
  item.iconPath = group.by === 'when' ? stateIcon(group.key as WorkRow['state']) : new ThemeIcon(groupIcons[group.by]);
  const jobs = group.rows.length === 1 ? '1 job' : `${group.rows.length} jobs`;
  item.accessibilityInformation = { label: `${group.label}, ${jobs}` };
  item.contextValue = 'group';
  return item;
}

/** The work first, then when; the word it is grouped by is left out. A click opens its line. */
export function rowItem(row: ShownRow, grouping: Grouping): TreeItem {
  const item = new TreeItem(`${grouping === 'batch' ? row.grafts : row.batch} ${row.job}`);
  const place = grouping === 'place' ? null : row.place;
  const log = grouping === 'when' ? row.log : null;
  item.description = [row.when, String(row.count), place, log].filter((part) => part !== null).join(' · ');
  item.tooltip = `${row.grafts}: ${row.title}, ${row.when}\n${row.why}`;
  item.accessibilityInformation = { label: row.log === null ? row.spoken : `${row.spoken}, ${row.log}` };
  item.contextValue = 'work';
  if (grouping !== 'when') item.iconPath = stateIcon(shownState(row));
  const at = { line: row.at.line, character: 0 };
  item.command = {
    command: 'vscode.open',
    title: 'Show the line',
    arguments: [Uri.parse(row.at.uri), { selection: { start: at, end: at } }],
  };
  return item;
}

function stateIcon(state: WorkRow['state']): ThemeIcon {
  return state === 'overdue'
    ? new ThemeIcon(stateIcons.overdue, new ThemeColor('list.errorForeground'))
    : new ThemeIcon(stateIcons[state]);
}
