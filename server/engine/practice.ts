import { readLine } from '#grammar/line.ts';
import type { Intervals, YearDay, YearPart } from '#grammar/statement.ts';
import type { Cover, Entry, Work } from './model.ts';
import shippedText from './practice.graft' with { type: 'text' };
import { type EarliestWork, type Held, type Limit, PracticeBook, type Waiting } from './practice-book.ts';
import { type PracticeRow, rowsOf } from './practice-rows.ts';
import type { Subject } from './practice-subject.ts';

export type { EarliestWork, Held, Limit, Waiting } from './practice-book.ts';
export type { PracticeRow } from './practice-rows.ts';
export { isDetached, onDay, type Range, type Subject } from './practice-subject.ts';

export interface OffSeason extends Held {
  readonly parts: readonly YearPart[];
}

export type LimitKey =
  | 'cut'
  | 'long'
  | 'short'
  | 'whorls'
  | 'unpruned'
  | 'scion'
  | 'scion-ratio'
  | 'match-ratio'
  | 'out'
  | 'film'
  | 'stored'
  | 'stored-at'
  | 'open-step'
  | 'open-every'
  | 'open-over'
  | 'headback-step'
  | 'frost'
  | 'hot';

/**
 * The rules of the trade as they stand for this log: the shipped lines and the log's own over them. Every answer is of
 * the closest line. Of a limit a warning and an information may both hold; where both are broken the
 * warning alone is said. In the tropics a rule that speaks of the seasons isn't given.
 */
export interface Practice {
  /** Shipped and own, in order. */
  readonly rows: readonly PracticeRow[];
  /** Rows of one line, shipped or own. */
  of(entry: Entry): readonly PracticeRow[];
  limits(key: LimitKey, subject: Subject): readonly Limit[];
  /** When not to graft: the closest line by plant and the closest by method are both asked. */
  off(subject: Subject): readonly OffSeason[];
  needs(cover: Cover, subject: Subject): Held | undefined;
  /** Every work and event some line speaks of, for `work`. */
  readonly works: readonly { readonly what: Work; readonly event: string }[];
  /** `subject.day` is the day of the event. */
  work(what: Work, event: string, subject: Subject): Waiting | undefined;
  /** One for each event that is asked. */
  earliest(what: EarliestWork, subject: Subject): readonly Waiting[];
  /** How long what was seen counts, in days. */
  stands(event: string, subject: Subject): Limit | undefined;
  /** Longer than `low` without a line (or, after an event, without an answer) is told, up to `high`. */
  silent(event: string | undefined, subject: Subject): readonly Limit[];
  /** A day of the year: the last spring frost, the first of autumn; of `growth` a stretch. */
  yearDay(
    key: 'last-frost' | 'first-frost',
    subject: Subject,
  ): { readonly row: PracticeRow; readonly at: YearDay } | undefined;
  growth(subject: Subject): { readonly row: PracticeRow; readonly parts: readonly YearPart[] } | undefined;
  /** `prior` 0..1, `weight` grafts, `degree-base` °C. */
  figure(
    key: 'prior' | 'weight' | 'degree-base',
    subject: Subject,
  ): { readonly row: PracticeRow; readonly figure: number } | undefined;
  /** Minutes a graft. */
  minutes(task: string, subject: Subject): number | undefined;
  /** Sets of a batch that have lines of their own: a set is cut along them before it is judged. */
  setsOf(batch: string): readonly Intervals[];
}

/** Of the log's `practice` lines, by file and line. */
export function practiceOf(lines: readonly Entry[]): Practice {
  const shipped = shippedRows();
  const own = lines.flatMap((entry, i) => rowsOf(entry, false, shipped.length + i));
  const rows = [...shipped, ...own];
  const book = new PracticeBook(rows);
  const limits = (id: string, subject: Subject) => book.limits(id, subject);
  return {
    rows,
    of: (entry) => book.of(entry),
    limits,
    off: (subject) => {
      const [byPlant, byMethod] = [book.held('off:plant', subject), book.held('off:method', subject)];
      if (byPlant.length + byMethod.length === 0) return nothing;
      const found = [...byPlant, ...byMethod];
      const once = found.filter((held, i) => found.findIndex((other) => other.row === held.row) === i);
      return once.flatMap((held) => (held.row.value.kind === 'year' ? [{ ...held, parts: held.row.value.parts }] : []));
    },
    needs: (cover, subject) => book.held(`needs:${cover}`, subject)[0],
    works: book.works,
    work: (what, event, subject) => book.waiting(`work:${what}:${event}`, subject)[0],
    earliest: (what, subject) =>
      book.earliestEvents(what).flatMap((event) => book.waiting(`earliest:${what}:${event}`, subject)),
    stands: (event, subject) => limits(`stands:${event}`, subject)[0],
    silent: (event, subject) => limits(event ? `silent:${event}` : 'silent', subject),
    yearDay: (key, subject) =>
      book
        .held(key, subject)
        .flatMap(({ row }) => (row.value.kind === 'dates' ? [{ row, at: row.value.from }] : []))[0],
    growth: (subject) =>
      book
        .held('growth', subject)
        .flatMap(({ row }) => (row.value.kind === 'year' ? [{ row, parts: row.value.parts }] : []))[0],
    figure: (key, subject) =>
      limits(key, subject).flatMap(({ row, low, high }) => {
        const figure = low ?? high;
        return figure === undefined ? [] : [{ row, figure }];
      })[0],
    minutes: (task, subject) =>
      book
        .held(`task:${task}`, subject)
        .flatMap(({ row }) => (row.value.kind === 'task' ? [row.value.minutes] : []))[0],
    setsOf: (batch) => book.setsOf(batch),
  };
}

const nothing: readonly OffSeason[] = [];

/** What the project ships, as lines of a file `practice.graft`; rank 0 is its first line. */
export const shippedLines: () => readonly Entry[] = once(() =>
  shippedText.split(/\r?\n/).map((text, rank) => ({ line: readLine(text), file: shippedFile, rank, minute: 0 })),
);
export const shippedFile = 'practice.graft';

/** The rules as they are shipped, without any log's own. */
export const shippedPractice: () => Practice = once(() => practiceOf([]));

const shippedRows = once(() => shippedLines().flatMap((entry, i) => rowsOf(entry, true, i)));

function once<T>(make: () => T): () => T {
  let made: T | undefined;
  return () => {
    made ??= make();
    return made;
  };
}
