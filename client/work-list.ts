import {
  commands,
  type Disposable,
  EventEmitter,
  ThemeColor,
  ThemeIcon,
  type TreeDataProvider,
  TreeItem,
  TreeItemCollapsibleState,
  type TreeView,
  Uri,
  window,
} from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { type WorkList, WorkRequest, type WorkResult, type WorkRow } from '#server/lsp/protocol.ts';
import { type Grouping, groupRows, type WorkGroup } from './work-groups.ts';

type Node = WorkGroup | WorkRow;
const isGroup = (node: Node): node is WorkGroup => 'rows' in node;

/** Where the day starts: what is overdue, due, soon and later, by when, place, batch or hand. */
export class WorkListView implements TreeDataProvider<Node>, Disposable {
  readonly #client: BaseLanguageClient;
  readonly #view: TreeView<Node>;
  readonly #changed = new EventEmitter<void>();
  readonly #listened = new EventEmitter<readonly WorkList[]>();
  readonly onDidChangeTreeData = this.#changed.event;
  readonly onChange = this.#listened.event;
  #lists: readonly WorkList[] = [];
  #grouping: Grouping = 'when';
  #waiting: ReturnType<typeof setTimeout> | undefined;

  constructor(client: BaseLanguageClient) {
    this.#client = client;
    this.#view = window.createTreeView('graftlog.work', { treeDataProvider: this, showCollapseAll: false });
    this.#view.message = 'Reading the log …';
  }

  get lists(): readonly WorkList[] {
    return this.#lists;
  }

  groupBy(grouping: Grouping): void {
    this.#grouping = grouping;
    this.#changed.fire();
  }

  /** Typing changes the list with each key; it is asked for once the hand rests. */
  refreshSoon(): void {
    clearTimeout(this.#waiting);
    this.#waiting = setTimeout(() => void this.refresh(), 200);
  }

  async refresh(): Promise<void> {
    try {
      this.#lists = (await this.#client.sendRequest<WorkResult>(WorkRequest, {})) ?? [];
    } catch {
      // The server is gone or starting again; what is shown stays until it answers.
      return;
    }
    const none = this.#lists.every((list) => list.files === 0);
    await commands.executeCommand('setContext', 'graftlog.noLog', none);
    this.#view.message = none ? '' : this.#message();
    this.#changed.fire();
    this.#listened.fire(this.#lists);
  }

  #message(): string {
    const lists = this.#lists.filter((list) => list.files > 0);
    if (lists.every((list) => list.read === 0) && lists.some((list) => list.lines > 0))
      return 'No line of this log could be read. See the problems.';
    const rows = lists.flatMap((list) => list.rows);
    if (rows.some((row) => row.state === 'overdue' || row.state === 'due')) return '';
    const next = lists.map((list) => list.next).find((text) => text !== null);
    return next ? `Nothing waits today. ${next}` : 'Nothing waits today.';
  }

  getChildren(node?: Node): Node[] {
    if (!node) return groupRows(this.#lists, this.#grouping);
    return isGroup(node) ? [...node.rows] : [];
  }

  getTreeItem(node: Node): TreeItem {
    return isGroup(node) ? groupItem(node) : rowItem(node, this.#grouping);
  }

  dispose(): void {
    clearTimeout(this.#waiting);
    this.#view.dispose();
    this.#changed.dispose();
    this.#listened.dispose();
  }
}

const stateIcons = { overdue: 'warning', due: 'circle-large', soon: 'calendar', later: 'history' } as const;
const groupIcons = { place: 'location', batch: 'package', hand: 'person' } as const;

function groupItem(group: WorkGroup): TreeItem {
  const open = group.key === 'later' ? TreeItemCollapsibleState.Collapsed : TreeItemCollapsibleState.Expanded;
  const item = new TreeItem(group.label, open);
  item.id = `group ${group.by} ${group.key}`;
  item.description = String(group.rows.length);
  item.iconPath = group.by === 'when' ? stateIcon(group.key as WorkRow['state']) : new ThemeIcon(groupIcons[group.by]);
  return item;
}

function stateIcon(state: WorkRow['state']): ThemeIcon {
  return state === 'overdue'
    ? new ThemeIcon(stateIcons.overdue, new ThemeColor('list.errorForeground'))
    : new ThemeIcon(stateIcons[state]);
}

function rowItem(row: WorkRow, grouping: Grouping): TreeItem {
  const item = new TreeItem(`${grouping === 'batch' ? row.grafts : row.batch} ${row.job}`);
  const place = grouping === 'place' ? null : row.place;
  item.description = [row.when, String(row.count), place].filter((part) => part !== null).join(' · ');
  item.tooltip = `${row.grafts}: ${row.title}, ${row.when}\n${row.why}`;
  item.accessibilityInformation = { label: row.spoken };
  item.contextValue = row.write ? 'work.writable' : 'work';
  if (grouping !== 'when') item.iconPath = stateIcon(row.state);
  item.command = {
    command: 'vscode.open',
    title: 'Show the line',
    arguments: [
      Uri.parse(row.at.uri),
      { selection: { start: { line: row.at.line, character: 0 }, end: { line: row.at.line, character: 0 } } },
    ],
  };
  return item;
}
