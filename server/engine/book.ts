import type { Mend, Span } from '#grammar/finding.ts';
import type { Day, Intervals, SetRef } from '#grammar/statement.ts';
import { intersect, intervalsText, normalize, subtract, union } from '#grammar/values/intervals.ts';
import type { Verb } from '#grammar/vocabulary.ts';
import type { BatchFacts } from './batch.ts';
import type { Growing, PlaceVisits } from './cohort.ts';
import type { Log } from './log.ts';
import type { Entry, Finding, LogMend, Related, Tally, Visit } from './model.ts';

/** A graft line as it stands in the log, whether it takes part yet or not. */
export interface Planned {
  readonly entry: Entry;
  readonly numbers: Intervals;
  /** Absent where the line has no day: it takes no part, and what names its grafts is not held against it. */
  readonly day?: Day;
}

/** One line of work, as it meets the batch: by naming its grafts, or the tree they stand on. */
export interface Event extends Visit {
  /** Of a tree: its key. */
  readonly tree?: string;
}

/** A batch's history while it is read: what has been made, what became of it, and what can't be. */
export interface Book {
  readonly key: string;
  readonly log: Log;
  readonly facts: BatchFacts;
  readonly cohorts: Growing[];
  readonly tallies: Tally[];
  readonly findings: Finding[];
  readonly planned: readonly Planned[];
  readonly events: readonly Event[];
  made: Intervals;
  /** Numbers that a line speaks of and no line made, told on the first such line. */
  neverMade: { readonly numbers: Intervals; readonly entry: Entry } | undefined;
  readonly placeVisits: PlaceVisits;
  readonly depends: Set<string>;
  /** Places where its wood was kept. */
  readonly stores: Set<string>;
}

/** What counts for the whole of its day, wherever it stands in it. */
export const wholeDay: ReadonlySet<Verb> = new Set<Verb>(['cover', 'swell', 'free', 'check', 'retie']);
/** Work on the understocks, which may come before the graft and counts for nothing there. */
export const beforehand: ReadonlySet<Verb> = new Set<Verb>(['headback', 'check', 'feed', 'water', 'treat']);
/** What may still be said of grafts that were sold. */
export const afterSale: ReadonlySet<Verb> = new Set<Verb>(['check', 'take', 'fail']);

export const numbersOf = (cohorts: readonly Growing[]): Intervals =>
  normalize(cohorts.flatMap((cohort) => cohort.numbers));

/** Numbers of graft lines that have no day: nobody knows when they were made, so nothing is said of lines on them. */
export function undatedNumbers(book: Book): Intervals {
  let numbers: Intervals = [];
  for (const planned of book.planned) if (planned.day === undefined) numbers = union(numbers, planned.numbers);
  return numbers;
}

/** The first graft line that makes some of these numbers. */
export function planOf(book: Book, numbers: Intervals): Planned | undefined {
  return book.planned.find((planned) => planned.day !== undefined && intersect(planned.numbers, numbers).length > 0);
}

export function related(entry: Entry, message: string, span?: Span): Related {
  const statement = entry.line.statement;
  return {
    entry,
    span: span ?? statement?.sets[0]?.span ?? statement?.verbSpan ?? { start: 0, end: entry.line.text.length },
    message,
  };
}

/** Takes numbers out of a set as it is written; nothing where none would be left, or none are written. */
export function leaveOut(entry: Entry, set: SetRef, numbers: Intervals, name: string): Mend | LogMend | undefined {
  if (!set.numbers) return undefined;
  const rest = subtract(set.numbers, numbers);
  if (
    rest.length === 0 ||
    (rest.length === set.numbers.length && rest.every((number, i) => number === set.numbers?.[i]))
  )
    return undefined;
  const behind = entry.line.text.slice(set.name.span.end, set.span.end).search(/\s(?:rest|except)(?!\S)|\s*[x×]\d+$/u);
  const end = behind < 0 ? set.span.end : set.name.span.end + behind;
  const title = `Leave ${name} out`;
  return {
    title: title.length <= 40 ? title : 'Leave them out',
    edits: [{ span: { start: set.name.span.start, end }, text: `${set.name.text}.${intervalsText(rest)}` }],
  };
}
