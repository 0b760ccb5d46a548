import type { Connection, Diagnostic } from 'vscode-languageserver';
import { codes } from '#grammar/codes.ts';
import type { Span } from '#grammar/finding.ts';
import type { Day } from '#grammar/statement.ts';
import type { Finding } from '#server/engine/model.ts';
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
const restMs = 60;

/** Sends findings: of the file that is typed in at once, of the other files when the hand rests, and takes them back. */
export class Publisher {
  readonly #connection: Connection;
  readonly #workspace: Workspace;
  readonly #host: Host;
  readonly #options: () => PublishOptions;
  /** Files whose findings the client holds, by URI. */
  readonly #sent = new Map<string, string>();
  /** What is shown of a file, for the next key in one of its lines. */
  readonly #shown = new Map<string, readonly Finding[]>();
  readonly #waiting = new Map<Root, () => void>();
  /** The day each log was last told for. */
  readonly #days = new WeakMap<Root, Day>();
  /** Called when a whole log was looked at anew. */
  onAll: (root: Root) => void = () => {};

  constructor(connection: Connection, workspace: Workspace, host: Host, options: () => PublishOptions) {
    this.#connection = connection;
    this.#workspace = workspace;
    this.#host = host;
    this.#options = options;
  }

  /**
   * After an edit of a file that is open. What the line itself has wrong is sent at once, with all other findings as
   * they were; what follows from it for its batch and the folder comes when the hand rests for a moment.
   */
  changed(root: Root, file: string, line?: number): void {
    if (root.loading) return;
    if (line === undefined || !this.#sendLine(root, file, line)) this.#sendWhole(root, file);
    this.#waiting.get(root)?.();
    const cancel = this.#host.later(restMs, () => this.all(root));
    this.#waiting.set(root, cancel);
  }

  #sendWhole(root: Root, file: string): void {
    for (const _ of root.answers.all());
    this.#send(root, file);
  }

  #sendLine(root: Root, file: string, line: number): boolean {
    const version = root.open.get(file);
    const shown = this.#shown.get(root.uriOf(file));
    const entry = root.log.document(file)?.entries[line];
    if (!shown || !entry || version === undefined) return false;
    // the entry of the line before this edit has the same rank and is no longer part of the file
    const before = shown.filter((finding) => finding.entry.rank !== entry.rank);
    const own = root.log.findingsOn(entry);
    const kept = own.some(({ severity }) => severity === 'error')
      ? []
      : shown.filter(
          ({ entry: old, span }) =>
            old.rank === entry.rank &&
            sameText(old.line.text, entry.line.text, span) &&
            !own.some((one) => one.span.start === span.start),
        );
    const findings = [
      ...before,
      ...kept.filter(({ code }) => codes[code].found !== 'line').map((finding) => ({ ...finding, entry })),
      ...own,
    ];
    this.#put(root, file, findings);
    return true;
  }

  /** Every file of a log; those that are gone lose their findings. */
  all(root: Root): void {
    this.#waiting.get(root)?.();
    this.#waiting.delete(root);
    if (root.loading || !this.#workspace.roots.includes(root)) return;
    this.#days.set(root, root.day);
    for (const _ of root.answers.all());
    const files = new Set(root.log.fileNames);
    for (const file of files) this.#send(root, file);
    for (const uri of [...this.#sent.keys()])
      if (this.#workspace.rootOf(uri) === root && !files.has(root.fileOf(uri))) this.#clear(uri);
    if (this.#options().pulls && this.#options().refresh) this.#connection.languages.diagnostics.refresh();
    void this.#connection.sendNotification(ChangedNotification);
    this.onAll(root);
  }

  /** A log told for a day that is over is told anew. */
  dayTurned(root: Root): void {
    const told = this.#days.get(root);
    if (told !== undefined && told !== root.day) this.all(root);
  }

  /** Of a log that is gone; a folder of its own within it stays as it is. */
  withdraw(root: Root): void {
    this.#waiting.get(root)?.();
    this.#waiting.delete(root);
    for (const uri of [...this.#sent.keys()]) {
      const now = this.#workspace.rootOf(uri);
      if (root.holds(uri) && (!now || now.uri.length < root.uri.length)) this.#clear(uri);
    }
    void this.#connection.sendNotification(ChangedNotification);
  }

  pulled(root: Root, file: string): Diagnostic[] {
    for (const _ of root.answers.all());
    return diagnosticsOf(root, root.answers.findingsIn(file), this.#options());
  }

  #send(root: Root, file: string): void {
    this.#put(root, file, root.answers.findingsIn(file));
  }

  #put(root: Root, file: string, findings: readonly Finding[]): void {
    const uri = root.uriOf(file);
    const version = root.open.get(file);
    if (version !== undefined && this.#options().pulls) return;
    const diagnostics = diagnosticsOf(root, findings, this.#options());
    this.#shown.set(uri, findings);
    const said = JSON.stringify(diagnostics);
    // a file whose findings are the same is not sent again; an open one waits for its version
    const stamp = `${version ?? ''} ${said}`;
    if ((this.#sent.get(uri) ?? ' []') === stamp) return;
    if (diagnostics.length > 0 || version !== undefined) this.#sent.set(uri, stamp);
    else this.#sent.delete(uri);
    void this.#connection.sendDiagnostics({ uri, diagnostics, ...(version === undefined ? {} : { version }) });
  }

  #clear(uri: string): void {
    this.#sent.delete(uri);
    this.#shown.delete(uri);
    void this.#connection.sendDiagnostics({ uri, diagnostics: [] });
  }
}

/** Whether a span reads the same before and after an edit of its line. */
const sameText = (before: string, after: string, { start, end }: Span) =>
  before.slice(start, end) === after.slice(start, end);
