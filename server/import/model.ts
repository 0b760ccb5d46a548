import type { Day, Intervals } from '#grammar/statement.ts';
import type { Key } from '#grammar/vocabulary.ts';
import type { DateOrder } from './dates.ts';
import type { DaySystem } from './day-numbers.ts';
import type { Standing } from './names.ts';

export interface ImportOptions {
  /** What the log says it comes from; the file's name without its folders. */
  readonly file: string;
  /** For takes and losses the sheet gives no day for. */
  readonly day: Day;
  /** Given: figures-only dates of all columns are read so. */
  readonly dates?: DateOrder;
  /** Given: columns of a spreadsheet's own day numbers are counted so. */
  readonly numbers?: DaySystem;
  /** Names that the folder's other logs declare. */
  readonly standing?: readonly Standing[];
  /** Batches whose names stand there are others, and get new names. */
  readonly rename?: boolean;
  /** Header to fact, with a unit behind it if wanted; `none` leaves the column out. */
  readonly map?: ReadonlyMap<string, string>;
}

/** A row that is not in the log, and why. */
export interface LeftRow {
  readonly row: number;
  readonly cells: readonly string[];
  readonly why: string;
}

export interface ColumnUse {
  readonly header: string;
  /** What it is taken for, in words. */
  readonly as: string;
}

/** What the import made of a sheet that could be read. */
export interface Imported {
  /** Empty where no row fits. */
  readonly log: string;
  readonly left: readonly LeftRow[];
  /** The side file: header and left rows, the reason in a last column; empty where no row is left. */
  readonly leftText: string;
  readonly columns: readonly ColumnUse[];
  readonly counts: {
    readonly rows: number;
    readonly taken: number;
    readonly left: number;
    readonly grafts: number;
    readonly took: number;
    readonly lost: number;
  };
  /** Sentences on what was read another way than it is spelled, and on what was left out. */
  readonly notes: readonly string[];
}

/** The import, or the sentence that says what it must be told first. */
export type ImportResult = { readonly done: Imported } | { readonly ask: string };

/** One row that can be written: grafts made on a day, and what became of them. */
export interface Made {
  readonly row: SheetRowRef;
  readonly day: Day;
  /** As the sheet spells it; absent where the sheet has no batches. */
  readonly batch?: string;
  readonly numbers?: Intervals;
  readonly count?: number;
  /** `Pinus parviflora / Pinus thunbergii` */
  readonly taxa?: string;
  /** In the order they stand on the line, each whole: `cut 40%`. */
  readonly facts: readonly MadeFact[];
  /** Each from a cell of its own, in the order of the columns. */
  readonly remarks: readonly string[];
  readonly events: readonly Visit[];
}

export interface SheetRowRef {
  readonly row: number;
  readonly cells: readonly string[];
}

export interface MadeFact {
  readonly key: Key;
  readonly text: string;
}

/** Work on all or some of a row's grafts. */
export interface Visit {
  readonly verb: 'swell' | 'free' | 'untie' | 'sever' | 'sell' | 'take' | 'fail';
  readonly day: Day;
  /** Of how many; all of the row's if absent. */
  readonly count?: number;
  /** Cause and remark, as they stand on the line. */
  readonly behind?: string;
  /** The sheet has no day for it. */
  readonly undated?: true;
}
