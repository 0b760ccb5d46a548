import {
  CustomExecution,
  Disposable,
  EventEmitter,
  type Pseudoterminal,
  Task,
  type TaskDefinition,
  TaskScope,
  tasks,
  type WorkspaceFolder,
  workspace,
} from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { type CheckParams, CheckRequest, type CheckResult } from '#server/lsp/protocol.ts';

const levels = ['error', 'warning', 'information', 'hint'] as const;

/** As tasks.json has it. */
interface CheckTask extends TaskDefinition {
  readonly type: 'graftlog';
  readonly command: 'check';
  /** Fails at a finding of this severity or worse; `never` never does. */
  readonly failOn?: (typeof levels)[number] | 'never';
}

/** The task `graftlog: check`: the running server prints what the command line would, so that nothing need be installed. */
export function registerCheckTask(client: BaseLanguageClient): Disposable {
  const own: CheckTask = { type: 'graftlog', command: 'check' };
  const provided = tasks.registerTaskProvider('graftlog', {
    provideTasks: () => (workspace.workspaceFolders ?? []).map((folder) => taskOf(client, own, folder)),
    resolveTask: ({ definition, scope }) =>
      definition.command === 'check'
        ? taskOf(client, definition as CheckTask, typeof scope === 'object' ? scope : undefined)
        : undefined,
  });
  // what was matched in the task's lines stood in for the server's findings, which know where they end and their page
  const ended = tasks.onDidEndTask(({ execution: { task } }) => {
    if (task.definition.type !== own.type) return;
    const held = client.diagnostics;
    if (held) for (const [uri, found] of held) held.set(uri, found);
  });
  return Disposable.from(provided, ended);
}

function taskOf(client: BaseLanguageClient, definition: CheckTask, folder: WorkspaceFolder | undefined): Task {
  const run = new CustomExecution(async () => new CheckTerminal(client, definition.failOn ?? 'error', folder));
  return new Task(definition, folder ?? TaskScope.Workspace, 'check', 'graftlog', run, '$graftlog');
}

class CheckTerminal implements Pseudoterminal {
  readonly #client: BaseLanguageClient;
  readonly #failOn: NonNullable<CheckTask['failOn']>;
  readonly #params: CheckParams;
  readonly #written = new EventEmitter<string>();
  readonly #closed = new EventEmitter<number>();
  readonly onDidWrite = this.#written.event;
  readonly onDidClose = this.#closed.event;

  constructor(
    client: BaseLanguageClient,
    failOn: NonNullable<CheckTask['failOn']>,
    folder: WorkspaceFolder | undefined,
  ) {
    this.#client = client;
    this.#failOn = failOn;
    this.#params = folder ? { root: folder.uri.toString() } : {};
  }

  async open(): Promise<void> {
    const say = (line: string) => this.#written.fire(`${line}\r\n`);
    const result = await this.#client.sendRequest<CheckResult>(CheckRequest, this.#params).catch(() => undefined);
    if (!result) {
      say(result === null ? 'No log here that was read to its end.' : 'Graft Log is not running.');
      this.#closed.fire(2);
      return;
    }
    for (const { text } of result.lines) say(text);
    if (result.lines.length > 0) say('');
    say(result.sum);
    const level = this.#failOn === 'never' ? -1 : levels.indexOf(this.#failOn);
    this.#closed.fire(result.lines.some(({ severity }) => levels.indexOf(severity) <= level) ? 1 : 0);
  }

  close(): void {
    this.#written.dispose();
    this.#closed.dispose();
  }
}
