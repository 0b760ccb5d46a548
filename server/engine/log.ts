import { type Document, type DocumentEdit, openDocument, type Range } from '#grammar/document.ts';
import type { Day } from '#grammar/statement.ts';
import { type Verb, verbRow } from '#grammar/vocabulary.ts';
import { EntryList } from './entry-list.ts';
import { copies, type Signature, signatureOf } from './file-copies.ts';
import type { Mention } from './mentions.ts';
import type { Entry, Finding } from './model.ts';
import { nameFindings } from './name-findings.ts';
import { NameIndex, type Touch } from './name-index.ts';
import { byHistory, byPlace } from './order.ts';

/** What holds for the whole log: a change in one of these may change any finding. */
export const wideVerbs = ['site', 'pair', 'practice', 'accept', 'weather'] as const satisfies readonly Verb[];
export type Wide = (typeof wideVerbs)[number];

/** What an edit did: enough to know which histories, checks and files have to be looked at again. */
export interface LogChange {
  /** Names on lines that came, went or got another day. */
  readonly touched: ReadonlyMap<string, Touch>;
  readonly wide: ReadonlySet<Wide>;
  /** Files with other lines, or other findings on their lines. */
  readonly files: ReadonlySet<string>;
}

interface LogFile {
  readonly document: Document;
  signature: Signature;
  /** Another file holds the same lines; this one takes no part. */
  copyOf?: string;
}

/** All files of one folder as one log. Files come, go and are edited by difference: untouched lines cost nothing. */
export class Log {
  readonly names = new NameIndex();
  private readonly files = new Map<string, LogFile>();
  private readonly wide: Record<Wide, EntryList>;
  /** Work that has a day, in order of the history. */
  private readonly timeline = new EntryList(byHistory);
  private readonly found = new Map<Entry, readonly Finding[]>();

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

  /** Takes a file in piece by piece, so that a server can answer in between; yields every thousand lines. */
  *addingDocument(document: Document): Generator<void, LogChange> {
    const change = new Change();
    if (this.files.has(document.file)) this.leave(document.file, change);
    this.files.set(document.file, { document, signature: signatureOf(document.entries) });
    for (const file of this.takePart(document.file, change)) {
      const { entries } = this.files.get(file)?.document ?? { entries: [] };
      for (let i = 0; i < entries.length; i++) {
        this.enter(entries[i] as Entry, true, change);
        if (i % 1000 === 999) yield;
      }
      for (let i = 0; i < entries.length; i++) {
        this.look(entries[i] as Entry);
        if (i % 1000 === 999) yield;
      }
    }
    this.lookAgain(change);
    return change;
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
    known.signature = signatureOf(edit.removed, signatureOf(edit.added, known.signature), -1);
    change.files.add(file);
    this.applyDifference(known, edit, change);
    this.lookAgain(change);
    return change;
  }

  document(file: string): Document | undefined {
    return this.files.get(file)?.document;
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

  /** Findings that don't depend on a history: of lines alone, of days, of names, and of files that hold the same lines. */
  *lineFindings(): Generator<Finding> {
    for (const found of this.found.values()) yield* found;
    for (const [file, { copyOf, document }] of this.files) {
      const entry = document.entries.find((line) => line.line.text.trim() !== '');
      if (copyOf === undefined || !entry) continue;
      yield {
        code: 'repeated-name',
        severity: 'error',
        entry,
        span: { start: 0, end: entry.line.text.length },
        message: `\`${file}\` holds the same lines as \`${copyOf}\`: a copy takes no part.`,
      };
    }
  }

  private applyDifference(known: LogFile, edit: DocumentEdit, change: Change): void {
    const before = known.copyOf;
    const joining = this.takePart(known.document.file, change, edit);
    if (before !== undefined || known.copyOf !== undefined || joining.some((file) => file !== known.document.file)) {
      for (const file of joining)
        for (const entry of this.files.get(file)?.document.entries ?? []) this.enter(entry, true, change);
      for (const file of joining) for (const entry of this.files.get(file)?.document.entries ?? []) this.look(entry);
      if (before !== undefined || known.copyOf !== undefined) return;
    }
    const many = edit.added.length + edit.redated.length > 200;
    for (const entry of edit.removed) this.exit(entry, change);
    for (const { before: old } of edit.redated) this.exit(old, change);
    const entered = [...edit.added, ...edit.redated.map(({ after }) => after)];
    for (const entry of entered) this.enter(entry, many, change);
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
    for (const entry of document.entries) if (!added.has(entry)) this.exit(entry, change);
    for (const entry of gone) this.exit(entry, change);
  }

  private leave(file: string, change: Change): void {
    const known = this.files.get(file);
    if (!known) return;
    this.files.delete(file);
    change.files.add(file);
    if (known.copyOf === undefined) for (const entry of known.document.entries) this.exit(entry, change);
    for (const joining of this.takePart(file, change).filter((name) => name !== file)) {
      const entries = this.files.get(joining)?.document.entries ?? [];
      for (const entry of entries) this.enter(entry, true, change);
      for (const entry of entries) this.look(entry);
    }
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

  private exit(entry: Entry, change: Change): void {
    this.found.delete(entry);
    change.files.add(entry.file);
    const statement = entry.line.statement;
    if (!statement) return;
    change.touch(entry, this.names.remove(entry));
    const { verb } = statement;
    if (isWide(verb)) {
      this.wide[verb].remove(entry);
      change.wide.add(verb);
    } else if (entry.day !== undefined && !statement.idle && verbRow(verb).kind === 'work') this.timeline.remove(entry);
  }

  /** What the line alone, its day and its names have wrong. */
  private look(entry: Entry): void {
    const own = [...entry.line.problems, ...(entry.problems ?? [])].map((problem): Finding => ({ ...problem, entry }));
    const names = nameFindings(entry, this);
    const first = this.site;
    if (first && entry.line.statement?.verb === 'site' && first !== entry) names.push(secondSite(entry, first));
    if (own.length + names.length > 0) this.found.set(entry, [...own, ...names]);
    else this.found.delete(entry);
  }

  /** A name that came or went changes what is said on every line that uses it. */
  private lookAgain(change: Change): void {
    for (const key of change.renamed) {
      for (const entry of this.names.mentions(key)) {
        this.look(entry);
        change.files.add(entry.file);
      }
    }
    if (change.wide.has('site')) for (const entry of this.wide.site.all) this.look(entry);
  }
}

const wides: ReadonlySet<Verb> = new Set(wideVerbs);
const isWide = (verb: Verb): verb is Wide => wides.has(verb);

/** Gathers what one change of the log touches. */
class Change implements LogChange {
  readonly touched = new Map<string, Touch>();
  readonly wide = new Set<Wide>();
  readonly files = new Set<string>();
  /** Names that lines of this change declare. */
  readonly renamed = new Set<string>();

  touch(entry: Entry, mentions: readonly Mention[]): void {
    this.files.add(entry.file);
    for (const {
      name: { key },
      as,
    } of mentions) {
      if (as === 'declared') this.renamed.add(key);
      const { day } = entry;
      const known = this.touched.get(key);
      if (as !== 'target' || day === undefined)
        this.touched.set(key, { whole: true, from: known?.from ?? 0, to: known?.to ?? 0 });
      else if (!known?.whole)
        this.touched.set(key, {
          whole: false,
          from: Math.min(day, known?.from ?? day),
          to: Math.max(day, known?.to ?? day),
        });
    }
  }
}

function secondSite(entry: Entry, first: Entry): Finding {
  const statement = entry.line.statement;
  return {
    code: 'repeated-name',
    severity: 'error',
    entry,
    span: statement?.verbSpan ?? { start: 0, end: entry.line.text.length },
    message: 'A second `site`: one log is one nursery, and the first line holds.',
    related: [
      { entry: first, span: first.line.statement?.verbSpan ?? { start: 0, end: 0 }, message: 'The log’s site.' },
    ],
  };
}
