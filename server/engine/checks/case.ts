import type { Severity, Span } from '#grammar/finding.ts';
import type { Amount, Day, Intervals } from '#grammar/statement.ts';
import type { Key } from '#grammar/vocabulary.ts';
import type { Accepts } from '../accept.ts';
import type { Log } from '../log.ts';
import type { Lots } from '../lots.ts';
import type { BatchHistory, Cohort, Entry, Finding, Found, LogMend, Related } from '../model.ts';
import type { Pairs } from '../pair.ts';
import type { Practice, Subject } from '../practice.ts';
import type { ExpectedSwelling } from '../swellings.ts';
import type { FrostDates } from '../year.ts';
import type { PlaceLines } from './place-lines.ts';

/** Weather of a place that nobody read there, from a station. */
export interface CheckWeather {
  /** Nights the station has for the place, the coldest figure of each, in order; nothing where it can't be told. */
  nights(place: string): readonly { readonly day: Day; readonly min: number }[];
  /** Its days with their maxima, as the nights. */
  heat(place: string): readonly { readonly day: Day; readonly max: number }[];
  /** Frost dates for the place; absent where the years are too few. */
  frostDates(place: string): FrostDates | undefined;
  /** Ten years on record without a night below 0 °C. */
  frostFree(place: string): boolean;
  /** Where a day's figure of a place is from. */
  told(place: string, figure: 'min' | 'max', day: Day): Told | undefined;
  /** When the buds of these grafts may be expected in the season of a day, by the nursery's own seasons; base in °C. */
  swelling(cohort: Cohort, on: Day, base: number): ExpectedSwelling | undefined;
}

/** Whose word a figure is: `the station + 1.5 °C (learned on 3 days)`, and the line that names its file. */
export interface Told {
  readonly by: string;
  readonly related: Related;
}

/** What checks ask, beside the history. */
export interface CheckEnv {
  readonly log: Log;
  readonly practice: Practice;
  readonly pairs: Pairs;
  readonly accepts: Accepts;
  readonly day: Day;
  readonly lots: Lots;
  readonly places: PlaceLines;
  readonly weather?: CheckWeather;
}

/** The grafts of one grafting line, all their cohorts together: they share every fact. */
export interface Sitting {
  readonly history: BatchHistory;
  readonly cohorts: readonly Cohort[];
  /** Any of them, for the facts. */
  readonly cohort: Cohort;
  readonly numbers: Intervals;
  readonly made: Entry;
  readonly day: Day;
  readonly subject: Subject;
  /** The graft's fact, else the batch's, else that of its lot. A lost fact is there, and marked so. */
  fact(key: Key): Found | undefined;
}

/** What a check saw, before it is merged with what it saw of other grafts on the same line. */
export interface Seen {
  readonly severity: Severity;
  readonly entry: Entry;
  readonly span: Span;
  readonly message: string | ((grafts: string, count: number) => string);
  readonly numbers: Intervals;
  /** Of several on one line the heaviest gives its words. */
  readonly weight?: number;
  readonly related?: readonly Related[];
  /** The practice line behind it. */
  readonly practice?: Entry;
  /** `numbers`: all grafts of the batch that the finding is told of. */
  readonly mends?: (numbers: Intervals) => readonly NonNullable<Finding['mends']>[number][];
  /** Cohort and day it is about, for `accept`; the place is that of the day. */
  readonly cohort: Cohort;
  readonly day: Day;
  /** At most one finding a batch for each: the place of a cover that is missing. */
  readonly once?: string;
}

export type Mended = LogMend | NonNullable<Finding['mends']>[number];

/** How a check is asked: once a grafting line, once a cohort, or once a batch. */
export type Check =
  | { readonly by: 'sitting'; readonly check: (sitting: Sitting, env: CheckEnv) => readonly Seen[] }
  | { readonly by: 'cohort'; readonly check: (cohort: Cohort, history: BatchHistory, env: CheckEnv) => readonly Seen[] }
  | { readonly by: 'batch'; readonly check: (history: BatchHistory, env: CheckEnv) => readonly Seen[] }
  /** Of lots and places, across batches. */
  | { readonly by: 'log'; readonly across: (env: CheckEnv) => AcrossCheck };

/** A sum over batches, kept by difference: an edit takes out the batches it reaches and puts them in again. */
export interface AcrossCheck {
  put(history: BatchHistory, env: CheckEnv): void;
  drop(batch: string): void;
  findings(env: CheckEnv): readonly Finding[];
}

export const bySitting = (check: Extract<Check, { by: 'sitting' }>['check']): Check => ({ by: 'sitting', check });
export const byCohort = (check: Extract<Check, { by: 'cohort' }>['check']): Check => ({ by: 'cohort', check });
export const byBatch = (check: Extract<Check, { by: 'batch' }>['check']): Check => ({ by: 'batch', check });
export const byLog = (across: Extract<Check, { by: 'log' }>['across']): Check => ({ by: 'log', across });

/** A fact that was read and lies in what is plausible. */
export const sound = (found: Found | undefined): Found | undefined => (found && !found.fact.lost ? found : undefined);

export function amountOf(found: Found | undefined): Amount | undefined {
  const value = sound(found)?.fact.value;
  return value?.kind === 'amount' ? value : undefined;
}

export function wordOf(found: Found | undefined): string | undefined {
  const value = sound(found)?.fact.value;
  return value?.kind === 'word' ? value.word : undefined;
}

/** Both ends of a figure that has them. */
export function rangeOf(amount: Amount | undefined): { readonly low: number; readonly high: number } | undefined {
  return amount?.low === undefined || amount.high === undefined ? undefined : { low: amount.low, high: amount.high };
}

/**
 * Where a finding about some facts stands: the line that wrote the fact; of several the graft's line if it wrote one of
 * them, else the batch's.
 */
export function placedOn(
  facts: readonly (Found | undefined)[],
): { readonly entry: Entry; readonly span: Span } | undefined {
  let best: Found | undefined;
  for (const found of facts)
    if (found && (!best || closest.indexOf(found.from) < closest.indexOf(best.from))) best = found;
  return best && { entry: best.entry, span: best.fact.span };
}

const closest: readonly Found['from'][] = ['graft', 'batch', 'like', 'lot'];

/** The day on a line, where the line itself has one; else its verb. */
export function daySpan(entry: Entry): Span {
  return entry.line.date?.span ?? entry.line.statement?.verbSpan ?? { start: 0, end: entry.line.text.length };
}

export function factSpan(entry: Entry, key: Key): Span | undefined {
  return entry.line.statement?.facts.find((fact) => fact.key === key)?.span;
}
