import { type Document, type DocumentEdit, openDocument, type Range } from '#grammar/document.ts';
import type { Day } from '#grammar/statement.ts';
import { verbRow } from '#grammar/vocabulary.ts';
import { EntryList } from './entry-list.ts';
import { copies, mayBeAlike, type Signature, signatureOf } from './file-copies.ts';
import { Change, isWide, type LogChange, type Wide } from './log-change.ts';
import { mentionsIn } from './mentions.ts';
import type { Entry, Finding } from './model.ts';
import { nameFindings, secondSite } from './name-findings.ts';
import { NameIndex } from './name-index.ts';
import { byHistory, byPlace } from './order.ts';

export type { LogChange, Wide } from './log-change.ts';

/** Up to so many lines are put in and taken out one by one; more at once are sorted in and sifted out. */
const fewLines = 200;

interface LogFile {
  readonly document: Document;
  signature: Signature;
  /** Another file holds the same lines; this one takes no part. */
  copyOf?: string;
  /** It is being taken in piece by piece; an edit meanwhile is read with the rest. */
  adding?: { edited: boolean };
}

/** All files of one folder as one log. Files come, go and are edited by difference: untouched lines cost nothing. */
export class Log {
  readonly names = new NameIndex();
  private readonly files = new Map<string, LogFile>();
  private readonly wide: Record<Wide, EntryList>;
  /** Work that has a day, in order of the history. */
  private readonly timeline = new EntryList(byHistory);
  private readonly found = new Map<string, Map<Entry, readonly Finding[]>>();

  constructor() {
    const list = () => new EntryList(byPlace);
    this.wide = { site: list(), pair: list(), practice: list(), accept: list(), weather: list() };
  }

  /** Reads a file; one that is there already is read anew. */
  addFile(file: string, text: string): LogChange {
    return this.addDocument(openDocument(file, text));
  }

  addDocument(document: Document): LogChange {
    const adding = this.addingDocument(document);
    for (;;) {
      const step = adding.next();
      if (step.done) return step.value;
    }
  }

  /**
   * Takes a file in piece by piece, so that a server can answer in between; yields every thousand lines. It may be
   * edited or removed meanwhile. Has to be run to its end.
   */
  *addingDocument(document: Document): Generator<void, LogChange> {
    const change = new Change();
    const { file } = document;
    change.files.add(file);
    if (this.files.has(file)) this.leave(file, change);
    const known: LogFile = { document, signature: signatureOf(document.entries) };
    this.files.set(file, known);
    do {
      known.adding = { edited: false };
      known.signature = signatureOf(document.entries);
      const joining = this.takePart(file, change);
      this.join(
        joining.filter((other) => other !== file),
        change,
      );
      if (joining.includes(file)) yield* this.entering(known, change);
    } while (known.adding.edited && this.files.get(file) === known);
    delete known.adding;
    this.lookAgain(change, file);
    return change;
  }

  private *entering(known: LogFile, change: Change): Generator<void, void> {
    const { document, adding } = known;
    const entries = document.entries.slice();
    let entered = 0;
    for (const step of [(entry: Entry) => this.enter(entry, true, change), (entry: Entry) => this.look(entry)]) {
      for (let i = 0; i < entries.length; i++) {
        step(entries[i] as Entry);
        entered = Math.max(entered, i + 1);
        if (i % 1000 !== 999) continue;
        yield;
        if (!adding?.edited && this.files.get(document.file) === known) continue;
        this.exitAll(entries.slice(0, entered), change);
        return;
      }
    }
  }

  private join(files: readonly string[], change: Change): void {
    for (const step of [(entry: Entry) => this.enter(entry, true, change), (entry: Entry) => this.look(entry)])
      for (const file of files) for (const entry of this.files.get(file)?.document.entries ?? []) step(entry);
  }

  removeFile(file: string): LogChange {
    const change = new Change();
    this.leave(file, change);
    this.lookAgain(change);
    return change;
  }

  applyEdit(file: string, range: Range, text: string): LogChange {
    const change = new Change();
    const known = this.files.get(file) ?? { document: openDocument(file, ''), signature: signatureOf([]) };
    this.files.set(file, known);
    const edit = known.document.edit(range, text);
    if (known.adding) {
      known.adding.edited = true;
      return change;
    }
    const { signature } = known;
    known.signature = signatureOf(edit.removed, signatureOf(edit.added, signature), -1);
    change.files.add(file);
    if (mayBeAlike(this.files, file, signature) || mayBeAlike(this.files, file, known.signature)) {
      const copied = known.copyOf !== undefined;
      this.join(this.takePart(file, change, edit), change);
      if (!copied && known.copyOf === undefined) this.applyDifference(edit, change);
    } else this.applyDifference(edit, change);
    this.lookAgain(change);
    return change;
  }

  document(file: string): Document | undefined {
    return this.files.get(file)?.document;
  }

  /** It is being taken in, piece by piece. */
  isComing(file: string): boolean {
    return this.files.get(file)?.adding !== undefined;
  }

  get fileNames(): readonly string[] {
    return [...this.files.keys()];
  }

  /** The first line of a file that says something, for what is to be written at its head. */
  firstLine(file: string): Entry | undefined {
    const entries = this.document(file)?.entries;
    return entries?.find((entry) => entry.line.statement) ?? entries?.[0];
  }

  /** `practice`, `accept`, `pair`, `weather` lines by file and line; of `site` the first holds. */
  all(verb: Wide): readonly Entry[] {
    return this.wide[verb].all;
  }

  get site(): Entry | undefined {
    return this.wide.site.first;
  }

  /** Work after a day, which takes no part yet. */
  *after(day: Day): Generator<Entry> {
    const all = this.timeline.all;
    for (let i = all.length - 1; i >= 0 && ((all[i] as Entry).day as Day) > day; i--) yield all[i] as Entry;
  }

  /** What one line has wrong by itself, by its day and by its names. */
  findingsOn(entry: Entry): readonly Finding[] {
    return this.found.get(entry.file)?.get(entry) ?? [];
  }

  /** Findings that don't depend on a history: of lines alone, of days, of names, and of files that hold the same lines. */
  *lineFindings(): Generator<Finding> {
    for (const file of this.files.keys()) yield* this.lineFindingsIn(file);
  }

  *lineFindingsIn(file: string): Generator<Finding> {
    for (const found of this.found.get(file)?.values() ?? []) yield* found;
    const { copyOf, document } = this.files.get(file) ?? {};
    const entry = copyOf === undefined ? undefined : document?.entries.find(({ line }) => line.text.trim() !== '');
    if (!entry) return;
    yield {
      code: 'repeated-name',
      severity: 'error',
      entry,
      span: { start: 0, end: entry.line.text.length },
      message: `\`${file}\` holds the same lines as \`${copyOf}\`: a copy takes no part.`,
    };
  }

  private applyDifference(edit: DocumentEdit, change: Change): void {
    this.exitAll([...edit.removed, ...edit.redated.map(({ before: old }) => old)], change);
    const entered = [...edit.added, ...edit.redated.map(({ after }) => after)];
    for (const entry of entered) this.enter(entry, entered.length > fewLines, change);
    for (const entry of entered) this.look(entry);
  }

  /**
   * Settles which of the files like this one take part. Those that stop are taken out; those that begin are returned,
   * the file itself among them where it is new. `edit`: lines already gone from the document are still in the index.
   */
  private takePart(file: string, change: Change, edit?: DocumentEdit): string[] {
    const joining: string[] = edit ? [] : [file];
    for (const [other, copyOf] of copies(this.files)) {
      const known = this.files.get(other) as LogFile;
      if (known.copyOf === copyOf) continue;
      change.files.add(other);
      const was = known.copyOf;
      if (copyOf === undefined) delete known.copyOf;
      else known.copyOf = copyOf;
      if (was === undefined && copyOf !== undefined && (edit || other !== file))
        this.takeOut(known, change, other === file ? edit : undefined);
      if (was !== undefined && copyOf === undefined && !joining.includes(other)) joining.push(other);
    }
    return joining.filter((name) => this.files.get(name)?.copyOf === undefined);
  }

  private takeOut({ document }: LogFile, change: Change, edit?: DocumentEdit): void {
    const added = new Set([...(edit?.added ?? []), ...(edit?.redated ?? []).map(({ after }) => after)]);
    const gone = [...(edit?.removed ?? []), ...(edit?.redated ?? []).map(({ before }) => before)];
    this.exitAll([...document.entries.filter((entry) => !added.has(entry)), ...gone], change);
  }

  private leave(file: string, change: Change): void {
    const known = this.files.get(file);
    if (!known) return;
    this.files.delete(file);
    change.files.add(file);
    // what was taken in of a file that is still coming is taken out where that goes on
    if (known.copyOf === undefined && !known.adding) this.exitAll(known.document.entries, change);
    this.join(
      this.takePart(file, change).filter((name) => name !== file),
      change,
    );
  }

  private enter(entry: Entry, many: boolean, change: Change): void {
    const statement = entry.line.statement;
    if (!statement) return;
    change.touch(entry, this.names.add(entry, many));
    const { verb } = statement;
    if (isWide(verb)) {
      this.wide[verb].add(entry, many);
      change.wide.add(verb);
    } else if (entry.day !== undefined && !statement.idle && verbRow(verb).kind === 'work')
      this.timeline.add(entry, many);
  }

  private exitAll(entries: readonly Entry[], change: Change): void {
    const gone = entries.length > fewLines ? new Set(entries) : undefined;
    if (gone) {
      this.names.removeAll(gone);
      for (const list of [this.timeline, ...Object.values(this.wide)]) list.removeAll(gone);
    }
    for (const entry of entries) {
      this.found.get(entry.file)?.delete(entry);
      change.files.add(entry.file);
      const statement = entry.line.statement;
      if (!statement) continue;
      change.touch(entry, mentionsIn(statement));
      const { verb } = statement;
      if (isWide(verb)) change.wide.add(verb);
      if (gone) continue;
      this.names.remove(entry);
      if (isWide(verb)) this.wide[verb].remove(entry);
      else this.timeline.remove(entry);
    }
  }

  /** What the line alone, its day and its names have wrong. */
  private look(entry: Entry): void {
    const own = [...entry.line.problems, ...(entry.problems ?? [])].map((problem): Finding => ({ ...problem, entry }));
    const names = nameFindings(entry, this);
    const first = this.site;
    if (first && entry.line.statement?.verb === 'site' && first !== entry) names.push(secondSite(entry, first));
    let found = this.found.get(entry.file);
    if (own.length + names.length === 0) {
      found?.delete(entry);
      return;
    }
    if (!found) {
      found = new Map();
      this.found.set(entry.file, found);
    }
    found.set(entry, [...own, ...names]);
  }

  /** A name that came or went changes what is said on every line that uses it. */
  private lookAgain(change: Change, looked?: string): void {
    for (const key of change.renamed) {
      for (const entry of this.names.mentions(key)) {
        if (entry.file === looked) continue;
        this.look(entry);
        change.files.add(entry.file);
      }
    }
    if (change.wide.has('site')) for (const entry of this.wide.site.all) this.look(entry);
  }
}
