import { readLine } from '#grammar/line.ts';
import type { Amount, Intervals, YearDay, YearPart } from '#grammar/statement.ts';
import type { Cover, Entry, Work } from './model.ts';
import shippedText from './practice.graft' with { type: 'text' };
import { conditionsHold, inScope } from './practice-match.ts';
import { type PracticeRow, rowsOf, type Wait } from './practice-rows.ts';
import type { Subject } from './practice-subject.ts';
import { isTropical } from './practice-year.ts';

export type { PracticeRow, Wait } from './practice-rows.ts';
export { isBud, isDetached, onDay, type Range, type Subject } from './practice-subject.ts';

/** A rule that holds for a subject, and the line behind it. */
export interface Held {
  readonly row: PracticeRow;
  readonly severity: 'warning' | 'information';
}
/** An interval that is good inside and on its ends; an open end is absent. Shares 0..1, mm, °C, days. */
export interface Limit extends Held {
  readonly low?: number;
  readonly high?: number;
  readonly amount: Amount;
}
export interface OffSeason extends Held {
  readonly parts: readonly YearPart[];
}
/** `work` and `earliest`: how long after which event. */
export interface Waiting extends Held {
  readonly event: string;
  readonly wait: Wait;
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
export type EarliestWork = 'swell' | 'take' | 'untie' | 'headback';

/**
 * The rules of the trade as they stand for this log: the shipped lines and the log's own over them. Every answer is of
 * the closest line (decided 96-101). Of a limit a warning and an information may both hold; where both are broken the
 * warning alone is said. In the tropics a rule that speaks of the seasons isn't given.
 */
export interface Practice {
  /** Shipped and own, in order. */
  readonly rows: readonly PracticeRow[];
  /** Rows of one line, shipped or own. */
  of(entry: Entry): readonly PracticeRow[];
  limits(key: LimitKey, subject: Subject): readonly Limit[];
  /** When not to graft: the closest line by plant and the closest by method are both asked (decided 99). */
  off(subject: Subject): readonly OffSeason[];
  needs(cover: Cover, subject: Subject): Held | undefined;
  /** Every work and event some line speaks of, for `work`. */
  readonly works: readonly { readonly what: Work; readonly event: string }[];
  /** `subject.day` is the day of the event (decided 123). */
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
  const book = new Book(rows);
  const limits = (id: string, subject: Subject) => book.held(id, subject).flatMap(limitOf);
  return {
    rows,
    of: (entry) => book.of(entry),
    limits,
    off: (subject) => {
      const found = [...book.held('off', subject, byPlant), ...book.held('off', subject, byMethod)];
      const once = found.filter((held, i) => found.findIndex((other) => other.row === held.row) === i);
      return once.flatMap((held) => (held.row.value.kind === 'year' ? [{ ...held, parts: held.row.value.parts }] : []));
    },
    needs: (cover, subject) => book.held(`needs:${cover}`, subject)[0],
    works: book.works,
    work: (what, event, subject) => book.held(`work:${what}:${event}`, subject).flatMap(waitingOf)[0],
    earliest: (what, subject) =>
      book.earliestEvents(what).flatMap((event) => book.held(`earliest:${what}:${event}`, subject).flatMap(waitingOf)),
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

/** What the project ships, as lines of a file `practice.graft`; rank 0 is its first line. */
export const shippedLines: () => readonly Entry[] = once(() =>
  shippedText.split(/\r?\n/).map((text, rank) => ({ line: readLine(text), file: shippedFile, rank, minute: 0 })),
);
export const shippedFile = 'practice.graft';

const shippedRows = once(() => shippedLines().flatMap((entry, i) => rowsOf(entry, true, i)));

function once<T>(make: () => T): () => T {
  let made: T | undefined;
  return () => {
    made ??= make();
    return made;
  };
}

const limitOf = ({ row, severity }: Held): Limit[] =>
  row.value.kind === 'amount'
    ? [
        {
          row,
          severity,
          amount: row.value,
          ...(row.value.low !== undefined ? { low: row.value.low } : {}),
          ...(row.value.high !== undefined ? { high: row.value.high } : {}),
        },
      ]
    : [];

const waitingOf = ({ row, severity }: Held): Waiting[] =>
  row.wait && row.event ? [{ row, severity, event: row.event, wait: row.wait }] : [];

const hasScope = (row: PracticeRow, kinds: readonly string[]) => row.scopes.some(({ kind }) => kinds.includes(kind));
/** A line by method says nothing of the plant, and the other way round; wider and narrower lines speak for both. */
const byPlant = (row: PracticeRow) => !hasScope(row, ['method']) || hasScope(row, ['group', 'plant', 'set']);
const byMethod = (row: PracticeRow) => !hasScope(row, ['group', 'plant']) || hasScope(row, ['method', 'set']);

/** Rows by key, and which of them a kind of graft is asked: found once a kind, however many batches there are. */
class Book {
  readonly works: readonly { readonly what: Work; readonly event: string }[];
  private readonly general = new Map<string, PracticeRow[]>();
  private readonly bySet = new Map<string, PracticeRow[]>();
  private readonly byLine = new Map<Entry, PracticeRow[]>();
  private readonly genera = new Set<string>();
  private readonly kinds = new Map<string, Map<string, readonly PracticeRow[]>>();

  constructor(rows: readonly PracticeRow[]) {
    const works = new Map<string, { readonly what: Work; readonly event: string }>();
    for (const row of rows) {
      push(this.byLine, row.entry, row);
      if (row.key === 'work' && row.word && row.event) works.set(row.id, { what: row.word as Work, event: row.event });
      const batches = row.scopes.flatMap((scope) => (scope.kind === 'set' ? [scope.set.name.key] : []));
      if (batches.length > 0) for (const batch of new Set(batches)) push(this.bySet, batch, row);
      else push(this.general, row.id, row);
      for (const scope of row.scopes)
        if (scope.kind === 'plant' && (scope.taxon.epithet || scope.taxon.cultivar))
          this.genera.add(scope.taxon.genus.toLowerCase());
    }
    this.works = [...works.values()];
  }

  of(entry: Entry): readonly PracticeRow[] {
    return this.byLine.get(entry) ?? [];
  }

  earliestEvents(what: EarliestWork): readonly string[] {
    const events = new Set<string>();
    for (const id of this.general.keys())
      if (id.startsWith(`earliest:${what}:`)) events.add(id.slice(`earliest:${what}:`.length));
    for (const rows of this.bySet.values())
      for (const row of rows) if (row.key === 'earliest' && row.word === what && row.event) events.add(row.event);
    return [...events];
  }

  setsOf(batch: string): readonly Intervals[] {
    return (this.bySet.get(batch) ?? [])
      .flatMap((row) => row.scopes)
      .flatMap((scope) => {
        if (scope.kind !== 'set' || scope.set.name.key !== batch) return [];
        return [
          ...(scope.set.numbers ? [scope.set.numbers] : []),
          ...(scope.set.except ?? []).map(({ numbers }) => numbers),
        ];
      });
  }

  /** The closest warning and the closest information that hold, the rule taken away where `none` is closest. */
  held(id: string, subject: Subject, among?: (row: PracticeRow) => boolean): readonly Held[] {
    const asked = this.asked(id, subject).filter((row) => (!among || among(row)) && conditionsHold(row, subject));
    const best = closest(asked);
    const own = best.findLast((row) => !row.shipped);
    const file = (own ?? best.at(-1))?.entry.file;
    const standing =
      own && own.severity === undefined ? closest(asked.filter((row) => row.shipped && row.value.kind !== 'none')) : [];
    const fallback =
      standing.length > 0 && standing.every((row) => row.severity === 'information') ? 'information' : 'warning';
    const slots: Partial<Record<'warning' | 'information', PracticeRow>> = {};
    for (const row of best) {
      if (row.shipped === (own !== undefined) || row.entry.file !== file) continue;
      if (row.value.kind === 'none') {
        delete slots.warning;
        delete slots.information;
      } else slots[row.severity ?? (row.shipped ? 'warning' : fallback)] = row;
    }
    return (['warning', 'information'] as const).flatMap((severity) => {
      const row = slots[severity];
      return row && !(row.seasonal && isTropical(subject.lat?.(subject.day))) ? [{ row, severity }] : [];
    });
  }

  private asked(id: string, subject: Subject): readonly PracticeRow[] {
    const general = this.ofKind(id, subject);
    const sets = subject.batch === undefined ? undefined : this.bySet.get(subject.batch);
    return sets ? [...general, ...sets.filter((row) => row.id === id && inScope(row, subject))] : general;
  }

  private ofKind(id: string, subject: Subject): readonly PracticeRow[] {
    const rows = this.general.get(id);
    if (!rows) return [];
    const { scion } = subject;
    const plant = scion && this.genera.has(scion.genus.toLowerCase()) ? scion.text : scion?.genus;
    const kind = `${subject.method ?? ''}|${subject.group ?? ''}|${plant ?? ''}`;
    let known = this.kinds.get(kind);
    if (!known) {
      known = new Map();
      this.kinds.set(kind, known);
    }
    let found = known.get(id);
    if (!found) {
      found = rows.filter((row) => inScope(row, subject));
      known.set(id, found);
    }
    return found;
  }
}

/** Those of the narrowest scope, then of the most scopes and conditions, in the order they were read. */
function closest(rows: readonly PracticeRow[]): readonly PracticeRow[] {
  let [rank, extent] = [-1, -1];
  for (const row of rows)
    if (row.rank > rank || (row.rank === rank && row.extent > extent)) [rank, extent] = [row.rank, row.extent];
  return rows.filter((row) => row.rank === rank && row.extent === extent).sort((a, b) => a.order - b.order);
}

function push<K, V>(map: Map<K, V[]>, key: K, value: V): void {
  const list = map.get(key);
  if (list) list.push(value);
  else map.set(key, [value]);
}
