import type { Connection, Diagnostic } from 'vscode-languageserver';
import { codes } from '#grammar/codes.ts';
import type { Span } from '#grammar/finding.ts';
import type { Day } from '#grammar/statement.ts';
import type { Host } from '#server/workspace/host.ts';
import type { Root } from '#server/workspace/root.ts';
import type { Workspace } from '#server/workspace/workspace.ts';
import { diagnosticsOf, type Shown, type ShownFile, show, showFile } from './diagnostics.ts';
import { ChangedNotification } from './protocol.ts';
import { type DiagnosticOptions, lineOf } from './to-protocol.ts';

interface PublishOptions extends DiagnosticOptions {
  /** The client asks for the findings of files it has open; then only the others are pushed. */
  readonly pulls: boolean;
  readonly refresh: boolean;
}

/** The rest of the folder is looked at once the hand rests. */
const restMs = 60;
/** A slice of that look, so that a key pressed meanwhile is read at once. */
const sliceMs = 8;
/** What a key may wait for all that follows from it, before only what its lines say by themselves is sent. */
const soonMs = 20;

interface Sent extends ShownFile {
  /** Of the text they are of, where the editor holds it. */
  readonly version: number | undefined;
}

/** Sends findings: of the file that is typed in at once, of the other files when the hand rests, and takes them back. */
export class Publisher {
  readonly #connection: Connection;
  readonly #workspace: Workspace;
  readonly #host: Host;
  readonly #options: () => PublishOptions;
  /** What the client shows of files, by URI. */
  readonly #sent = new Map<string, Sent>();
  readonly #waiting = new Map<Root, () => void>();
  /** The look at a log that is going on; an edit overtakes it, and it begins anew when the hand rests. */
  readonly #looking = new Map<Root, symbol>();
  /** Logs of which every file is to be told. */
  readonly #whole = new Set<Root>();
  /** Files, by URI, of which only what their lines say was told, beside what was known: the rest is owed. */
  readonly #owed = new Set<string>();
  /** The day each log was last told for. */
  readonly #days = new WeakMap<Root, Day>();
  /** Called when a log was looked at, after an edit or as a whole. */
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
    this.#looking.delete(root);
    if (line === undefined || !this.#sendLine(root, file, line)) this.#sendSoon(root, file);
    this.#waiting.get(root)?.();
    const cancel = this.#host.later(restMs, () => this.#look(root));
    this.#waiting.set(root, cancel);
  }

  /** All there is to say where that is told within a slice; else what lines say by themselves beside what was known. */
  #sendSoon(root: Root, file: string): void {
    const started = this.#host.now();
    for (const _ of root.answers.settling()) {
      if (this.#host.now() - started < soonMs) continue;
      const document = root.log.document(file);
      const kept = (this.#sent.get(root.uriOf(file))?.shown ?? [])
        .map(({ finding }) => finding)
        .filter(({ code, entry }) => codes[code].found !== 'line' && (document?.lineOf(entry) ?? -1) >= 0);
      this.#put(root, file, showFile(root, [...root.log.lineFindingsIn(file), ...kept], this.#options()));
      this.#owed.add(root.uriOf(file));
      return;
    }
    this.#send(root, file);
  }

  #sendLine(root: Root, file: string, line: number): boolean {
    const version = root.open.get(file);
    const sent = this.#sent.get(root.uriOf(file));
    const entry = root.log.document(file)?.entries[line];
    if (!sent || !entry || version === undefined) return false;
    const own = root.log.findingsOn(entry);
    const failed = own.some(({ severity }) => severity === 'error');
    const shown: Shown[] = [];
    for (const one of sent.shown) {
      const { finding } = one;
      // the entry of the line before this edit has the same rank and is no longer part of the file
      if (finding.entry.rank !== entry.rank) shown.push(one);
      else if (
        !failed &&
        codes[finding.code].found !== 'line' &&
        sameText(finding.entry.line.text, entry.line.text, finding.span) &&
        !own.some((other) => other.span.start === finding.span.start)
      )
        shown.push(show(root, { ...finding, entry }, this.#options()));
    }
    for (const finding of own) shown.push(show(root, finding, this.#options()));
    this.#put(root, file, { shown, rest: sent.rest });
    return true;
  }

  /** Every file of a log; those that are gone lose their findings. */
  all(root: Root): void {
    this.#whole.add(root);
    this.#look(root);
  }

  /** What edits since the last rest have changed, in whatever files, or the whole log where that is due. */
  #look(root: Root): void {
    this.#waiting.get(root)?.();
    this.#waiting.delete(root);
    const mine = Symbol();
    this.#looking.set(root, mine);
    this.#settled(root, () => this.#looking.get(root) !== mine).then(
      (done) => done && this.#tell(root),
      // told as a fault in what runs by the clock is
      (fault) => {
        this.#host.later(0, () => {
          throw fault;
        });
      },
    );
  }

  /** Brings a log's answers up to date in slices; false where it was overtaken or is gone. */
  async #settled(root: Root, overtaken: () => boolean): Promise<boolean> {
    const over = () => overtaken() || root.loading || !this.#workspace.roots.includes(root);
    if (over()) return false;
    let started = this.#host.now();
    for (;;) {
      const { answers } = root;
      for (const _ of answers.settling()) {
        if (this.#host.now() - started < sliceMs) continue;
        await this.#host.pause();
        if (over()) return false;
        started = this.#host.now();
      }
      // where the day turned meanwhile, these are of yesterday
      if (root.answers === answers) return true;
    }
  }

  #tell(root: Root): void {
    this.#looking.delete(root);
    const changed = root.answers.changedFiles();
    const files = new Set(root.log.fileNames);
    const whole = this.#whole.delete(root) || this.#days.get(root) !== root.day;
    this.#days.set(root, root.day);
    for (const file of files) {
      const uri = root.uriOf(file);
      if (whole || changed.has(file) || this.#owed.has(uri) || this.#leadsAstray(root, uri, changed))
        this.#send(root, file);
    }
    if (whole)
      for (const uri of [...this.#sent.keys()])
        if (this.#workspace.rootOf(uri) === root && !files.has(root.fileOf(uri))) this.#clear(uri);
    if (this.#options().pulls && this.#options().refresh) this.#connection.languages.diagnostics.refresh();
    void this.#connection.sendNotification(ChangedNotification);
    this.onAll(root);
  }

  /** Lines were put in or taken out above a line of another file that a finding leads to. */
  #leadsAstray(root: Root, uri: string, changed: ReadonlySet<string>): boolean {
    return (this.#sent.get(uri)?.shown ?? []).some(
      ({ finding, diagnostic: { relatedInformation: led } }) =>
        led !== undefined &&
        finding.related?.some(
          ({ entry }, i) => changed.has(entry.file) && led[i]?.location.range.start.line !== lineOf(root, entry),
        ),
    );
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
    this.#looking.delete(root);
    this.#whole.delete(root);
    for (const uri of [...this.#sent.keys()]) {
      const now = this.#workspace.rootOf(uri);
      if (root.holds(uri) && (!now || now.uri.length < root.uri.length)) this.#clear(uri);
    }
    void this.#connection.sendNotification(ChangedNotification);
  }

  async pulled(root: Root, file: string): Promise<Diagnostic[]> {
    await this.#settled(root, () => false);
    return diagnosticsOf(showFile(root, root.answers.findingsIn(file), this.#options()));
  }

  #send(root: Root, file: string): void {
    this.#owed.delete(root.uriOf(file));
    this.#put(root, file, showFile(root, root.answers.findingsIn(file), this.#options()));
  }

  #put(root: Root, file: string, now: ShownFile): void {
    const uri = root.uriOf(file);
    const version = root.open.get(file);
    if (version !== undefined && this.#options().pulls) return;
    const before = this.#sent.get(uri);
    const diagnostics = diagnosticsOf(now);
    // a file whose findings are the same is not sent again; an open one waits for its version
    if (before ? before.version === version && same(diagnosticsOf(before), diagnostics) : isQuiet(version, now)) return;
    if (isQuiet(version, now)) this.#sent.delete(uri);
    else this.#sent.set(uri, { ...now, version });
    void this.#connection.sendDiagnostics({ uri, diagnostics, ...(version === undefined ? {} : { version }) });
  }

  #clear(uri: string): void {
    this.#owed.delete(uri);
    this.#sent.delete(uri);
    void this.#connection.sendDiagnostics({ uri, diagnostics: [] });
  }
}

const same = (a: readonly Diagnostic[], b: readonly Diagnostic[]) =>
  a.length === b.length && JSON.stringify(a) === JSON.stringify(b);

const isQuiet = (version: number | undefined, { shown }: ShownFile) => version === undefined && shown.length === 0;

/** Whether a span reads the same before and after an edit of its line. */
const sameText = (before: string, after: string, { start, end }: Span) =>
  before.slice(start, end) === after.slice(start, end);
