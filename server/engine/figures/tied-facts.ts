import type { ComparisonKind } from '#server/statistics/compare.ts';
import { tied } from '#server/statistics/tied.ts';
import { turned } from '#server/statistics/turned.ts';
import type { FiguresEnv } from './env.ts';
import { type GroupKey, levelOfPiece } from './levels.ts';
import { type Piece, sure, total } from './pieces.ts';

export interface TiedFact {
  readonly key: GroupKey;
  readonly overlap: number;
  readonly word: 'never-apart' | 'mostly-together' | 'apart';
}

export interface TurnedFact {
  readonly key: GroupKey;
  readonly crude: number;
  readonly within: number;
}

/** Other facts that may be the cause of a difference, in the order they are named. */
const others = ['pair', 'method', 'season', 'hand', 'day', 'wood', 'place', 'lot', 'depth', 'store'] as const;

/**
 * Facts that follow from the levels compared by what they are: no two seasons share a day, no two scions a lot. To name
 * them as going together would say nothing.
 */
const sameThing: Readonly<Partial<Record<GroupKey, readonly GroupKey[]>>> = {
  method: ['depth'],
  season: ['day'],
  year: ['day'],
  pair: ['lot'],
  scion: ['pair', 'lot'],
  genus: ['pair', 'lot'],
  understock: ['pair'],
};

/**
 * Whether a fact that went with the two ways throughout could be the cause in their place. A label is a mark to compare
 * by: one fact alone that goes with it in the same sittings is what it marks.
 */
export function blurred(key: GroupKey, kind: ComparisonKind, tied: readonly TiedFact[]): boolean {
  const never = tied.filter(({ word }) => word === 'never-apart');
  return never.length > 0 && markedBy(key, kind, tied) === undefined;
}

/** The one fact that labels of the same sittings stand for. */
export function markedBy(key: GroupKey, kind: ComparisonKind, tied: readonly TiedFact[]): GroupKey | undefined {
  const [only, ...more] = tied.filter(({ word }) => word === 'never-apart');
  return key === 'label' && kind === 'within' && more.length === 0 ? only?.key : undefined;
}

/** How many are named. */
const most = 3;

/**
 * Every other recorded fact that went together with the two ways. A level nobody wrote is a level of its
 * own; so are sets counted over several.
 *
 * @param a pieces of one way that the comparison rests on, `b` of the other
 */
export function tiedFacts(key: GroupKey, a: readonly Piece[], b: readonly Piece[], env: FiguresEnv): TiedFact[] {
  const found = othersOf(key, a, b, env).flatMap(({ key: other, levels }): TiedFact[] => {
    const together = tied(levels.map((level) => ({ a: level.a.judged, b: level.b.judged })));
    return together && together.word !== 'apart' ? [{ key: other, ...together }] : [];
  });
  const never = found.filter(({ word }) => word === 'never-apart');
  return [...never, ...found.filter((one) => !never.includes(one))].slice(0, most);
}

/**
 * Facts that turn the difference round when they are held level, of those that can be told apart from the two ways.
 *
 * @param a all pieces of one way, `b` of the other
 */
export function turnedFacts(key: GroupKey, a: readonly Piece[], b: readonly Piece[], env: FiguresEnv): TurnedFact[] {
  return othersOf(key, a, b, env).flatMap(({ key: other, levels }): TurnedFact[] => {
    const together = tied(levels.map((level) => ({ a: level.a.judged, b: level.b.judged })));
    const round = together?.word === 'apart' ? turned(levels) : null;
    return round ? [{ key: other, ...round }] : [];
  });
}

function othersOf(key: GroupKey, a: readonly Piece[], b: readonly Piece[], env: FiguresEnv) {
  return others.flatMap((other) => {
    if (other === key || sameThing[key]?.includes(other)) return [];
    const levels = strata(other, a, b, env);
    return levels ? [{ key: other, levels }] : [];
  });
}

/** Counts of both ways in each level; undefined where the fact is on record nowhere. */
function strata(key: GroupKey, a: readonly Piece[], b: readonly Piece[], env: FiguresEnv) {
  const levels = new Map<string, { a: Piece[]; b: Piece[] }>();
  let written = false;
  for (const [side, pieces] of [
    ['a', a],
    ['b', b],
  ] as const) {
    for (const piece of pieces) {
      const level = levelOfPiece(key, piece, env);
      if (level !== null) written = true;
      const id = level === undefined ? 'several' : JSON.stringify(level);
      const there = levels.get(id) ?? { a: [], b: [] };
      there[side].push(piece);
      levels.set(id, there);
    }
  }
  if (!written) return undefined;
  return [...levels.values()].map((level) => ({ a: total(level.a.map(sure)), b: total(level.b.map(sure)) }));
}
