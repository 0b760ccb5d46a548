import type { BatchHistory } from '../model.ts';
import { type Comparison, comparisonsOf } from './compare.ts';
import type { FiguresEnv } from './env.ts';
import { type Group, groupsOf } from './groups.ts';
import type { GroupKey, NumberKey } from './levels.ts';
import { piecesOf } from './pieces.ts';
import { type Ranking, rankingOf } from './ranking.ts';
import { type FactSlope, slopesOf } from './slopes.ts';
import { type Survival, survivalOf } from './survival.ts';

/** What a record teaches: all that `graftlog stats` gives. */
export interface Stats {
  readonly groups: readonly Group[];
  readonly comparisons: readonly Comparison[];
  readonly ranking: Ranking | null;
  readonly slopes: readonly FactSlope[];
  readonly survival: Survival | null;
}

export interface StatsAsked {
  readonly by: readonly GroupKey[];
  /** Keys to compare the levels of; p is adjusted for all of them together. */
  readonly compare: readonly GroupKey[];
}

/** Keys that are numbers, too: asked for, their slope is looked at beside their classes. */
const numbers: ReadonlySet<GroupKey> = new Set<GroupKey>(['depth', 'store', 'long', 'whorls']);

/**
 * Take rates by key, comparisons, ranking, slopes and losses over time of a log on a day.
 *
 * @param histories of all batches; those of which nothing is made are left out
 * @param by a batch or a pair is also ranked
 */
export function statsOf(histories: Iterable<BatchHistory>, { by, compare }: StatsAsked, env: FiguresEnv): Stats {
  const pieces = [...histories].flatMap((history) => piecesOf(history, env));
  const ranked = by.length === 1 && (by[0] === 'batch' || by[0] === 'pair') ? by[0] : undefined;
  const facts = [...new Set([...by, ...compare])].filter((key): key is GroupKey & NumberKey => numbers.has(key));
  return {
    groups: groupsOf(pieces, by, env),
    comparisons: comparisonsOf(pieces, compare, env),
    ranking: ranked ? rankingOf(pieces, ranked, env) : null,
    slopes: slopesOf(pieces, facts, env),
    survival: survivalOf(pieces),
  };
}

/** The same as JSON: what is for words only is left out. */
export function statsJson({ groups, comparisons, ranking, slopes, survival }: Stats) {
  return {
    groups: groups.map(groupJson),
    comparisons: comparisons.map(({ ages: _, ...comparison }) => comparison),
    ranking,
    slopes,
    survival: survival && withoutWatched(survival),
  };
}

/** In the order the fields are documented in. */
function groupJson(group: Group) {
  const { key, grafted, taken, failed, open, rate, low, high, causes, early, late, excluded, worst, best } = group;
  const { outer, expected, batches, effective, spread, basis } = group;
  const counts = { key, grafted, taken, failed, open, rate, low, high, causes, early, late, excluded };
  return { ...counts, worst, best, outer, expected, batches, effective, spread, basis };
}

function withoutWatched({ points, median, halfOfLosses, late }: Survival) {
  return { points, median, halfOfLosses, late };
}
