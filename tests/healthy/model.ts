import type { Day } from '#grammar/statement.ts';
import type { Calendar } from './calendar.ts';
import type { Pair } from './plants.ts';

export interface Fact {
  readonly key: string;
  readonly text: string;
}

/** A line before it is written. Work has a day, a declaration none. */
export interface Line {
  verb: string;
  day?: Day;
  /** A name as it is written, or grafts of a batch, which can be said in several ways; without numbers all that live. */
  target: string | { readonly batch: Batch; readonly numbers?: readonly number[] };
  facts: Fact[];
  /** The batch it belongs to: it goes when the batch goes. */
  batch?: Batch;
  /** What a slip made of it: stands as it is, day and all. */
  raw?: string;
  /** Stands above everything else, where no day is carried to it. */
  top?: boolean;
  /** Written although its day is still to come. */
  ahead?: boolean;
  /** Of a step of opening: how far it stood open, since when, and whether mould or water asked for it. */
  step?: { readonly before: number; readonly since: Day | undefined; readonly airing: boolean };
}

/** What keeps the scion from drying. Film and bag are opened step by step. */
export type Wrap = 'film' | 'bag' | 'wax' | 'damp' | 'tie' | 'none';

export type PlaceKind = 'frame' | 'tent' | 'mist' | 'garage' | 'lath' | 'yard';

export interface Place {
  readonly name: string;
  readonly kind: PlaceKind;
  readonly line: Line;
  /** Of one batch only, and nobody else writes about it. */
  readonly own: boolean;
}

export interface Batch {
  readonly name: string;
  readonly method: string;
  /** Absent: nothing in the log tells the plants. */
  readonly pair: Pair | undefined;
  readonly wrap: Wrap;
  readonly potted: boolean;
  readonly counted: boolean;
  readonly size: number;
  readonly place: Place;
  readonly declaration: Line;
  readonly collect?: Line;
  readonly trees: readonly string[];
  readonly grafts: Line[];
  /** First and last sitting. */
  readonly first: Day;
  readonly last: Day;
  /** The day each lost number was written off. */
  readonly lost: Map<number, Day>;
  swell?: Day;
  free?: Day;
  take?: Day;
  untie?: Day;
  sold?: Day;
  /** From this day on some are lost or taken by count, and nobody knows which. */
  undivided?: Day;
}

export interface Season {
  readonly calendar: Calendar;
  readonly recordsCuts: boolean;
  readonly places: Place[];
  readonly batches: Batch[];
  lines: Line[];
  /** The day it is looked at; nothing later is written yet. */
  today: Day;
  /** Declarations stand above all work: below the last day line they would be words of that day. */
  declaredFirst?: true;
  /** The station's file, where a `weather` line names one. */
  station?: string;
}

export const fact = (key: string, text = key): Fact => ({ key, text });
export const factOf = (line: Line, key: string): string | undefined => line.facts.find((one) => one.key === key)?.text;

/** Puts a fact in the place of the one under its key, or at the end. */
export function setFact(line: Line, key: string, text: string): void {
  const at = line.facts.findIndex((one) => one.key === key);
  if (at < 0) line.facts.push({ key, text });
  else line.facts[at] = { key, text };
}

export function dropFact(line: Line, ...keys: readonly string[]): void {
  line.facts = line.facts.filter((one) => !keys.includes(one.key));
}

export const numbersOf = (from: number, to: number): number[] =>
  Array.from({ length: Math.max(0, to - from + 1) }, (_, index) => from + index);

/** The numbers that live on the evening of a day. */
export const livingOn = (batch: Batch, day: Day): number[] =>
  batch.grafts
    .filter((line) => (line.day ?? day + 1) <= day)
    .flatMap((line) => (typeof line.target === 'string' ? [] : (line.target.numbers ?? [])))
    .filter((number) => (batch.lost.get(number) ?? day + 1) > day);
