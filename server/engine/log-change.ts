import type { Day } from '#grammar/statement.ts';
import type { Verb } from '#grammar/vocabulary.ts';
import type { Mention } from './mentions.ts';
import type { Entry } from './model.ts';
import type { Touch } from './name-index.ts';

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
  /** Names that its lines declare. */
  readonly renamed: ReadonlySet<string>;
}

const wides: ReadonlySet<Verb> = new Set(wideVerbs);
export const isWide = (verb: Verb): verb is Wide => wides.has(verb);

/** Gathers what one change of the log touches. */
export class Change implements LogChange {
  readonly touched = new Map<string, Touch>();
  readonly wide = new Set<Wide>();
  readonly files = new Set<string>();
  readonly renamed = new Set<string>();

  touch(entry: Entry, mentions: readonly Mention[]): void {
    this.files.add(entry.file);
    for (const {
      name: { key },
      as,
      kinds,
    } of mentions) {
      // a place or a tree that a line only tells of is for its own grafts, and what others have there stays; a batch
      // that is likened has been spoken of
      if (as === 'fact' && !kinds.includes('batch')) continue;
      if (as === 'declared') this.renamed.add(key);
      const known = this.touched.get(key);
      if (as !== 'target' || entry.day === undefined) this.touched.set(key, whole);
      else if (!known?.whole) {
        const { from, to } = reach(entry.line.statement?.verb, entry.day);
        this.touched.set(key, {
          whole: false,
          from: Math.min(from, known?.from ?? from),
          to: Math.max(to, known?.to ?? to),
        });
      }
    }
  }
}

const whole: Touch = { whole: true, from: 0, to: 0 };

/** A cold spell lasts up to seven days beyond its last reading; so a line may be heard a week off. */
const spell = 8;

/** The days on which work on a place is felt there: what is put on or taken off lasts. */
function reach(verb: Verb | undefined, day: Day): Pick<Touch, 'from' | 'to'> {
  return { from: day - spell, to: verb === 'cover' || verb === 'uncover' ? Number.POSITIVE_INFINITY : day + spell };
}
