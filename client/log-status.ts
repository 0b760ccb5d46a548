import {
  type Disposable,
  type LanguageStatusItem,
  LanguageStatusSeverity,
  languages,
  StatusBarAlignment,
  type StatusBarItem,
  window,
} from 'vscode';
import type { WorkList } from '#server/lsp/protocol.ts';

/** Two quiet lines at the window's foot: what is overdue, and the day and size of the log. */
export class LogStatus implements Disposable {
  readonly #overdue: StatusBarItem;
  readonly #log: LanguageStatusItem;

  constructor() {
    this.#overdue = window.createStatusBarItem('graftlog.overdue', StatusBarAlignment.Left, 10);
    this.#overdue.name = 'Graft Log: overdue work';
    this.#overdue.command = 'graftlog.work.focus';
    this.#log = languages.createLanguageStatusItem('graftlog.log', { language: 'graft' });
    this.#log.name = 'Graft Log';
    this.#log.text = 'Graft Log: reading …';
  }

  show(lists: readonly WorkList[]): void {
    const rows = lists.flatMap((list) => list.rows);
    const overdue = rows.filter((row) => row.state === 'overdue' && !row.waits).length;
    const due = rows.filter((row) => row.state === 'due' || (row.state === 'overdue' && row.waits)).length;
    if (overdue > 0) {
      this.#overdue.text = `$(warning) ${overdue} overdue`;
      const jobs = overdue === 1 ? '1 job overdue' : `${overdue} jobs overdue`;
      this.#overdue.tooltip = `Graft Log: ${jobs}, ${due} due. Show the work list.`;
      this.#overdue.accessibilityInformation = { label: `Graft Log: ${jobs}` };
      this.#overdue.show();
    } else this.#overdue.hide();
    this.#log.severity = LanguageStatusSeverity.Information;
    this.#log.command = undefined;
    const first = lists[0];
    if (!first) {
      this.#log.text = 'Graft Log: no log here';
      this.#log.detail = '';
      return;
    }
    if (lists.some((list) => list.stopped)) {
      this.#log.text = 'Graft Log: reading was stopped';
      this.#log.detail = 'findings and work are not known';
      this.#log.severity = LanguageStatusSeverity.Warning;
      this.#log.command = { command: 'graftlog.refreshWork', title: 'Go on reading' };
      return;
    }
    const sum = (count: (list: WorkList) => number) => lists.reduce((total, list) => total + count(list), 0);
    const files = sum((list) => list.files);
    this.#log.text = `Graft Log: as of ${first.onShown}`;
    const read = `${files === 1 ? '1 file' : `${files} files`}, ${sum((list) => list.lines)} lines`;
    const unread = lists.flatMap((list) => list.unread);
    this.#log.detail = unread.length > 0 ? `${read}; could not be read: ${unread.join(', ')}` : read;
    if (unread.length > 0) this.#log.severity = LanguageStatusSeverity.Warning;
  }

  /** No server: what is overdue isn't known, and the log's line says so. */
  stopped(): void {
    this.#overdue.hide();
    this.#log.text = 'Graft Log: not running';
    this.#log.detail = 'findings and work are not shown';
    this.#log.severity = LanguageStatusSeverity.Warning;
    this.#log.command = { command: 'graftlog.restart', title: 'Start again' };
  }

  dispose(): void {
    this.#overdue.dispose();
    this.#log.dispose();
  }
}
