import type { Problem, Span } from './finding.ts';
import type { Key, Verb } from './vocabulary.ts';

/** Days since 1970-01-01: the engine's only date, so that no difference is ever taken in hours. */
export type Day = number;

/** Sorted, disjoint, closed ranges of whole numbers, two places each: `[1, 12, 14, 14]` is 1..12,14. */
export type Intervals = readonly number[];

/** One line of a log as it could be read alone: what was understood beside what was not. */
export interface Line {
  readonly text: string;
  readonly date?: { readonly day: Day; readonly span: Span };
  /** Minutes since midnight, on the site's clock. */
  readonly time?: { readonly minutes: number; readonly span: Span };
  /** A date stands here that can't be read: as a day line it takes the lines under it out of the log. */
  readonly dateLost?: true;
  readonly statement?: Statement;
  readonly comment?: Span;
  readonly problems: readonly Problem[];
}

export interface Statement {
  readonly verb: Verb;
  readonly verbSpan: Span;
  /** The target or targets, in order; of a declaration or `collect` its name. Empty where none was given. */
  readonly sets: readonly SetRef[];
  readonly taxa?: Taxa;
  /** In the order written; a key that may repeat (`accept` `task` `photo`) stands once for each. */
  readonly facts: readonly Fact[];
  /** The line's one free text: the remark; of `accept` and `pair` the reason; of `weather` the path. */
  readonly remark?: { readonly text: string; readonly span: Span };
  /** `practice` and `accept` only: whom it is for. */
  readonly scopes?: readonly Scope[];
  /** `accept` only: the codes accepted, as written. */
  readonly codes?: readonly Word[];
  /** Bare words behind a single target that are no word of the verb: the log knows whether a name explains them. */
  readonly spare?: readonly Name[];
  /** Verb or target could not be read, or a share was asked for and is missing: the line takes no part. */
  readonly idle?: true;
}

export interface Word {
  readonly text: string;
  readonly span: Span;
}

/** A name as written and the key it is compared by: lower case, NFC. */
export interface Name extends Word {
  readonly key: string;
}

/** A set of grafts, or a tree, lot or place: which of them is known only with the whole log. */
export interface SetRef {
  readonly name: Name;
  /** All of it, with numbers, `rest`, `except` and count. */
  readonly span: Span;
  /** Absent: the whole batch (or tree, lot, place). */
  readonly numbers?: Intervals;
  readonly rest?: true;
  readonly except?: readonly { readonly name: Name; readonly numbers: Intervals; readonly span: Span }[];
  readonly count?: { readonly value: number; readonly span: Span };
}

/** One side of a pair. Epithets and ranks as written, without italics: `parviflora`, `var. pentaphylla`. */
export interface Taxon {
  readonly genus: string;
  readonly epithet?: string;
  readonly cultivar?: string;
  readonly hybrid?: true;
  /** As written, one blank between words, `P.` spelled out: `Pinus parviflora 'Tenysu'`. */
  readonly text: string;
  readonly span: Span;
}

/** scion / understock, or scion / interstem / understock; a single plant has a scion only. */
export interface Taxa {
  readonly scion: Taxon;
  readonly interstem?: Taxon;
  readonly stock?: Taxon;
  readonly span: Span;
}

export type Scope =
  | { readonly kind: 'any' | 'detached'; readonly span: Span }
  | { readonly kind: 'method' | 'group'; readonly words: readonly string[]; readonly span: Span }
  | { readonly kind: 'plant'; readonly taxon: Taxon; readonly span: Span }
  | { readonly kind: 'set'; readonly set: SetRef; readonly span: Span };

export interface Fact {
  readonly key: Key;
  readonly value: Value;
  /** Key and value. */
  readonly span: Span;
  readonly valueSpan: Span;
  /** `slipped`: read, but beyond what is plausible. `unread`: its value can't be read. Both take no part,
   *  and hide the batch's default: the fact is unknown, not absent. */
  readonly lost?: 'slipped' | 'unread' | undefined;
}

/** What an amount measures and the unit the model keeps it in: mm, share 0..1, °C, days, a plain number, minutes. */
export type Measure = 'length' | 'share' | 'temperature' | 'duration' | 'number' | 'minutes';

export interface Amount {
  readonly kind: 'amount';
  readonly measure: Measure;
  /** Equal ends for a single figure; an end that is left open (practice lines only) is absent. */
  readonly low?: number;
  readonly high?: number;
  /** Durations written in `mo` or `y`, as whole months: added to a day by the calendar. */
  readonly lowMonths?: number;
  readonly highMonths?: number;
}

/** A day of the year, or a season's edge that the place gives. */
export type YearDay =
  | { readonly month: number; readonly day: number }
  | { readonly edge: 'growth' | 'last-frost' | 'first-frost' };

/** One stretch of the year, both ends inside. `growth` alone is a stretch. A season turns with the hemisphere. */
export type YearPart =
  | { readonly from: YearDay; readonly to: YearDay }
  | { readonly season: 'spring' | 'summer' | 'autumn' | 'winter' }
  | { readonly growth: true };

export type Value =
  | { readonly kind: 'flag' }
  /** A choice of the vocabulary in its canonical spelling: side, wood, match, method, cause, group ... */
  | { readonly kind: 'word'; readonly word: string }
  | { readonly kind: 'words'; readonly words: readonly string[] }
  /** A declared thing: place, tree, lot, batch. */
  | { readonly kind: 'name'; readonly name: Name }
  /** Trees (`from`), or people (`by`), who are never declared. */
  | { readonly kind: 'names'; readonly names: readonly Name[] }
  | { readonly kind: 'text'; readonly text: string }
  | Amount
  /** mm: how thick and how long. */
  | { readonly kind: 'size'; readonly across?: Amount; readonly along?: Amount }
  /** `off` `made` `collected` `within` `growth`. */
  | { readonly kind: 'year'; readonly parts: readonly YearPart[] }
  /** `wait` as days of the year; without `to` it stays open (`wait oct-01`). As days on, it is an amount. */
  | { readonly kind: 'dates'; readonly from: YearDay; readonly to?: YearDay }
  /** `task look 0.1min`: minutes a graft. */
  | { readonly kind: 'task'; readonly work: string; readonly minutes: number }
  /** `none`: takes a rule away. */
  | { readonly kind: 'none' };
