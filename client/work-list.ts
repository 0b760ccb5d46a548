import {
  commands,
  type Disposable,
  EventEmitter,
  type Memento,
  type TreeDataProvider,
  type TreeItem,
  type TreeView,
  window,
} from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { type WorkList, type WorkParams, WorkRequest, type WorkResult } from '#server/lsp/protocol.ts';
import { filtered, type Grouping, groupings, groupRows, rowsOf, type ShownRow, type WorkGroup } from './work-groups.ts';
import { groupItem, rowItem } from './work-items.ts';

const groupingKey = 'grouping';

type Node = WorkGroup | ShownRow;
const isGroup = (node: Node): node is WorkGroup => 'rows' in node;

/** Where the day starts: what is overdue, due, soon and later, by when, place, batch or hand. */
export class WorkListView implements TreeDataProvider<Node>, Disposable {
  readonly #client: BaseLanguageClient;
  readonly #kept: Memento;
  readonly #view: TreeView<Node>;
  readonly #changed = new EventEmitter<void>();
  readonly #listened = new EventEmitter<readonly WorkList[]>();
  readonly onDidChangeTreeData = this.#changed.event;
  readonly onChange = this.#listened.event;
  #lists: readonly WorkList[] = [];
  #grouping: Grouping;
  #filter = '';
  #waiting: ReturnType<typeof setTimeout> | undefined;
  /** Requests are numbered: an answer that was overtaken by a newer one is not shown. */
  #asked = 0;

  /** @param kept what the folder's window remembers: how the list was grouped last */
  constructor(client: BaseLanguageClient, kept: Memento) {
    this.#client = client;
    this.#kept = kept;
    this.#grouping = groupings.find((grouping) => grouping === kept.get(groupingKey)) ?? 'when';
    this.#view = window.createTreeView('graftlog.work', { treeDataProvider: this, showCollapseAll: false });
    this.#view.message = 'Reading the log …';
  }

  get rows(): readonly ShownRow[] {
    return filtered(rowsOf(this.#lists), this.#filter);
  }

  /** The row that the keyboard stands on. */
  get selected(): ShownRow | undefined {
    const node = this.#view.selection[0];
    return node && !isGroup(node) ? node : undefined;
  }

  get filter(): string {
    return this.#filter;
  }

  groupBy(grouping: Grouping): void {
    this.#grouping = grouping;
    void this.#kept.update(groupingKey, grouping);
    this.#show();
  }

  filterBy(filter: string): void {
    this.#filter = filter.trim();
    void commands.executeCommand('setContext', 'graftlog.workFiltered', this.#filter !== '');
    this.#show();
  }

  /** Typing changes the list with each key; it is asked for once the hand rests. */
  refreshSoon(): void {
    clearTimeout(this.#waiting);
    this.#waiting = setTimeout(() => void this.refresh(), 200);
  }

  async refresh(params: WorkParams = {}): Promise<void> {
    const asked = ++this.#asked;
    try {
      const lists = await this.#client.sendRequest<WorkResult>(WorkRequest, params);
      if (asked !== this.#asked) return;
      this.#lists = lists;
    } catch {
      // The server is gone or starting again; what is shown stays until it answers.
      return;
    }
    const none = this.#lists.every((list) => list.files === 0 && !list.stopped);
    await commands.executeCommand('setContext', 'graftlog.noLog', none);
    this.#show();
    this.#listened.fire(this.#lists);
  }

  #show(): void {
    this.#view.message = this.#message();
    const hours = this.#lists.flatMap((list) => list.hours ?? []);
    this.#view.description = this.#filter ? `“${this.#filter}”` : hours.length === 1 ? (hours[0] ?? '') : '';
    this.#changed.fire();
  }

  #message(): string {
    const stopped = this.#lists.filter((list) => list.stopped);
    if (stopped.length > 0)
      return `Reading ${stopped.map((list) => list.name).join(', ')} was stopped: its work is not known. Read the work list again to go on.`;
    const lists = this.#lists.filter((list) => list.files > 0);
    if (lists.length === 0) return '';
    if (lists.every((list) => list.read === 0) && lists.some((list) => list.lines > 0))
      return 'No line of this log could be read. See the problems.';
    const all = rowsOf(lists);
    if (all.length > 0 && this.rows.length === 0) return `No work here has “${this.#filter}” in it.`;
    if (all.some((row) => row.state === 'overdue' || row.state === 'due')) return '';
    const next = lists.map((list) => list.next).find((text) => text !== null);
    return next ? `Nothing waits today. ${next}` : 'Nothing waits today.';
  }

  getChildren(node?: Node): Node[] {
    if (!node) return groupRows(this.rows, this.#grouping);
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
