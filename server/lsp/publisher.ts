import type { Connection, Diagnostic } from 'vscode-languageserver';
import type { Host } from '#server/workspace/host.ts';
import type { Root } from '#server/workspace/root.ts';
import type { Workspace } from '#server/workspace/workspace.ts';
import { diagnosticsOf } from './diagnostics.ts';
import { ChangedNotification } from './protocol.ts';
import type { DiagnosticOptions } from './to-protocol.ts';

interface PublishOptions extends DiagnosticOptions {
  /** The client asks for the findings of files it has open; then only the others are pushed. */
  readonly pulls: boolean;
  readonly refresh: boolean;
}

/** The rest of the folder is looked at once the hand rests. */
const restMs = 150;

/** Sends findings: of the file that is typed in at once, of the other files when the hand rests, and takes them back. */
export class Publisher {
  readonly #connection: Connection;
  readonly #workspace: Workspace;
  readonly #host: Host;
  readonly #options: () => PublishOptions;
  /** Files whose findings the client holds, by URI. */
  readonly #sent = new Map<string, string>();
  readonly #waiting = new Map<Root, () => void>();

  constructor(connection: Connection, workspace: Workspace, host: Host, options: () => PublishOptions) {
    this.#connection = connection;
    this.#workspace = workspace;
    this.#host = host;
    this.#options = options;
  }

  /** After an edit of a file that is open. */
  changed(root: Root, file: string): void {
    if (root.loading) return;
    // what the edit threw away is answered again before it is shown
    for (const _ of root.answers.all());
    this.#send(root, file);
    this.#waiting.get(root)?.();
    this.#waiting.set(
      root,
      this.#host.later(restMs, () => this.all(root)),
    );
  }

  /** Every file of a log; those that are gone lose their findings. */
  all(root: Root): void {
    this.#waiting.get(root)?.();
    this.#waiting.delete(root);
    if (root.loading || !this.#workspace.roots.includes(root)) return;
    for (const _ of root.answers.all());
    const files = new Set(root.log.fileNames);
    for (const file of files) this.#send(root, file);
    for (const uri of [...this.#sent.keys()]) if (root.holds(uri) && !files.has(root.fileOf(uri))) this.#clear(uri);
    if (this.#options().pulls && this.#options().refresh) this.#connection.languages.diagnostics.refresh();
    void this.#connection.sendNotification(ChangedNotification);
  }

  withdraw(root: Root): void {
    this.#waiting.get(root)?.();
    this.#waiting.delete(root);
    for (const uri of [...this.#sent.keys()]) if (root.holds(uri)) this.#clear(uri);
    void this.#connection.sendNotification(ChangedNotification);
  }

  pulled(root: Root, file: string): Diagnostic[] {
    for (const _ of root.answers.all());
    return diagnosticsOf(root, file, this.#options());
  }

  #send(root: Root, file: string): void {
    const uri = root.uriOf(file);
    const version = root.open.get(file);
    if (version !== undefined && this.#options().pulls) return;
    const diagnostics = diagnosticsOf(root, file, this.#options());
    const said = JSON.stringify(diagnostics);
    // a file that is not open and whose findings are the same is not sent again; an open one waits for its version
    if (version === undefined && (this.#sent.get(uri) ?? '[]') === said) return;
    if (diagnostics.length > 0) this.#sent.set(uri, said);
    else this.#sent.delete(uri);
    void this.#connection.sendDiagnostics({ uri, diagnostics, ...(version === undefined ? {} : { version }) });
  }

  #clear(uri: string): void {
    this.#sent.delete(uri);
    void this.#connection.sendDiagnostics({ uri, diagnostics: [] });
  }
}
