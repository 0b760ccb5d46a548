import type { Code } from '#grammar/codes.ts';
import type { Entry } from '#grammar/entry.ts';
import type { Mend, Severity, Span } from '#grammar/finding.ts';
import type { Day, Fact, Intervals, Statement, Taxa, Taxon } from '#grammar/statement.ts';
import type { Key, Method, Verb, workWords } from '#grammar/vocabulary.ts';

export type { Entry };

export type NameKind = 'place' | 'tree' | 'batch' | 'lot';

export interface Declared {
  readonly kind: NameKind;
  readonly key: string;
  readonly name: string;
  readonly entry: Entry;
}

/** A place in the log that a finding points back to. */
export interface Related {
  readonly entry: Entry;
  readonly span: Span;
  readonly message: string;
}

/** A change of text for a mend that needs the whole log: in any line, or as a new line below or above one. */
export interface LogEdit {
  readonly entry: Entry;
  /** `in`: replaces `span`; `below` and `above`: `text` becomes a line of its own beside the entry. */
  readonly where: 'in' | 'below' | 'above';
  readonly span?: Span;
  readonly text: string;
}

export interface LogMend {
  readonly title: string;
  readonly edits: readonly LogEdit[];
  readonly safe?: boolean;
}

/** One finding on one line. Findings of the same line and code are one: see `merge.ts`. */
export interface Finding {
  readonly code: Code;
  readonly severity: Severity;
  readonly entry: Entry;
  readonly span: Span;
  readonly message: string;
  readonly related?: readonly Related[];
  /** The set concerned, `K26.1..12`; a plain batch name where its grafts have no numbers. */
  readonly grafts?: string;
  /** The practice line behind it, shipped (file `practice.graft`) or the log's own. */
  readonly practice?: Entry;
  readonly mends?: readonly (Mend | LogMend)[];
}

/** Practice groups of conifers and others; `plant.ts` says which genus is of which. */
export type Group = 'needle' | 'scale' | 'shedding' | 'broadleaf';
export type Cover = 'frost-free' | 'shade' | 'wind-break' | 'humid' | 'heated' | 'mist';

/** A fact together with the line that wrote it: the graft's, its batch's, or that of the batch it is `like`. */
export interface Found {
  readonly fact: Fact;
  readonly entry: Entry;
  readonly from: 'graft' | 'batch' | 'like' | 'lot';
}

export interface Batch {
  readonly key: string;
  readonly name: string;
  /** Absent where nothing declares the batch. */
  readonly entry?: Entry;
  readonly method?: Method;
  readonly taxa?: Taxa;
  /** The line that says its plants: its own, or that of the batch it is like. */
  readonly told?: Entry;
  /** Made by number (`K26.1..12`) or by count (`K26 x40`); a counted batch numbers its grafts 1..n inwardly. */
  readonly counted: boolean;
  fact(key: Key): Found | undefined;
}

/** One line as one cohort met it. A line on a place or a tree reaches the grafts that stood there. */
export interface Visit {
  readonly entry: Entry;
  readonly statement: Statement;
  readonly verb: Verb;
  readonly day: Day;
  readonly via: 'set' | 'place' | 'tree' | 'lot';
  /** It spoke of some of the set without saying which: nothing that needs to know which may follow from it. */
  readonly undivided?: true;
}

/** Where grafts stood from a day on: at a place, on a tree (which stands somewhere itself), or nobody knows. */
export interface Stay {
  readonly day: Day;
  readonly entry: Entry;
  readonly place?: string;
  readonly tree?: string;
  /** An undeclared place, or a tree of which no place is told. */
  readonly unknown?: true;
}

/** Grafts of one batch with one history. */
export interface Cohort {
  readonly batch: Batch;
  readonly numbers: Intervals;
  readonly made: Entry;
  readonly madeDay: Day;
  readonly method?: Method;
  /** Scion, and understock if told, after lot, trees and batch have been asked. */
  readonly scion?: Taxon;
  readonly interstem?: Taxon;
  readonly stock?: Taxon;
  readonly group?: Group;
  /** Who made them: key of the hands, joined by commas. */
  readonly hand?: string;
  /** No `onto`, `branch`, `out` or side word: a potted stem. */
  readonly potted: boolean;
  /** Every visit in order, the grafting first. */
  readonly visits: readonly Visit[];
  /** Those that named the set or its tree; lines on its place, which can be thousands, are left out. */
  readonly named: readonly Visit[];
  readonly stays: readonly Stay[];
  /** The graft line's fact, else the batch's, else that of the batch it is like. A lost fact hides what lies behind it. */
  fact(key: Key): Found | undefined;
  readonly swell?: Day;
  readonly free?: Day;
  readonly take?: Day;
  readonly fail?: { readonly day: Day; readonly cause: string; readonly entry: Entry };
  readonly sold?: Day;
  readonly untied?: Day;
  /** Last share open, 0..1; 0 after a `rewrap`. */
  readonly share: number;
  readonly headback: number;
  /** How far it is cut from what feeds it, 0..1. */
  readonly severed: number;
  /** Part of the set was counted and not named: no work and no finding that must know which. */
  readonly undivided: boolean;
  /** Its `take` or `fail` was settled by counts (all are judged, which is which nobody wrote): figures come from the tallies. */
  readonly counted?: true;
  /** Kept here by `subject.ts`: a table of its own would take as much room as the cohort. */
  wood?: AskedWood | undefined;
}

/** What is asked about the scions of a cohort and what kind of graft it is; °C and mm. Worked out anew with other lots. */
export interface AskedWood {
  readonly lots: object;
  readonly kind: string;
  readonly thick: Range | undefined;
  readonly collected: Day | undefined;
  readonly store: Range | undefined;
}

/** Two ends of a figure; equal for a single one. */
export interface Range {
  readonly low: number;
  readonly high: number;
}

/** Losses, takes or sales of so many of a set, unnamed. */
export interface Tally {
  readonly over: Intervals;
  readonly verb: 'take' | 'fail' | 'sell';
  readonly count: number;
  readonly day: Day;
  readonly entry: Entry;
  readonly cause?: string;
}

export interface BatchHistory {
  readonly batch: Batch;
  /** By grafting line, then by number. Empty where nothing has been made by the day computed for. */
  readonly cohorts: readonly Cohort[];
  readonly tallies: readonly Tally[];
  /** The reading codes that need the whole log: unknown-graft, after-end, wrap-shrank and so on. */
  readonly findings: readonly Finding[];
  /** All entries that name the batch, in order of the history. */
  readonly lines: readonly Entry[];
}

export type Work = (typeof workWords)[number];
export type WorkState = 'overdue' | 'due' | 'soon' | 'later';

/** A piece of work that is next for some grafts of one batch, as `due` lists it. */
export interface WorkItem {
  readonly what: Work;
  readonly batch: Batch;
  readonly numbers: Intervals;
  /** `K26.1..11`; of unnamed ones the batch's name. */
  readonly grafts: string;
  /** The living. */
  readonly count: number;
  readonly place: string | null;
  readonly hand: string | null;
  readonly from: Day;
  readonly by: Day;
  readonly state: WorkState;
  readonly waits: boolean;
  readonly to: { readonly low: number; readonly high: number } | null;
  /** The last line that names the set. */
  readonly entry: Entry;
  readonly why: string;
  /** A tie found biting is bound again, not looked at; a graft found dry is wrapped again, not covered. */
  readonly renews?: 'tie' | 'wrap';
  /** The practice line behind it, for the hover. */
  readonly practice?: Entry;
  /** For all of it, by the practice's `task` lines. */
  readonly minutes?: number;
}

/** A batch's own figures; shares 0..1, `null` where nothing has been judged. */
export interface BatchFigures {
  readonly grafted: number;
  readonly taken: number;
  readonly failed: number;
  readonly open: number;
  readonly early: number;
  readonly late: number;
  readonly rate: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly worst: number | null;
  readonly best: number | null;
  readonly outer: { readonly low: number; readonly high: number } | null;
  readonly causes: Readonly<Record<string, number>>;
}
