import { type Compared, type ComparisonKind, compare, type Sitting } from '#server/statistics/compare.ts';
import { holm } from '#server/statistics/holm.ts';
import { type Verdict, verdict } from '#server/statistics/verdict.ts';
import type { FiguresEnv } from './env.ts';
import { byLevel } from './groups.ts';
import { type GroupKey, type Level, levelOfPiece, sharesSitting } from './levels.ts';
import { halfJudged, type Piece, push, sittingOf, sure, total } from './pieces.ts';
import { blurred, type TiedFact, type TurnedFact, tiedFacts, turnedFacts } from './tied-facts.ts';

/** A against B, as `stats` gives it; difference and limits as shares, A - B. */
export interface Comparison {
  readonly key: GroupKey;
  readonly a: Level;
  readonly b: Level;
  readonly kind: ComparisonKind;
  readonly aTaken: number;
  readonly aJudged: number;
  readonly bTaken: number;
  readonly bJudged: number;
  readonly difference: number;
  readonly low: number | null;
  readonly high: number | null;
  readonly p: number | null;
  readonly pHolm: number | null;
  readonly word: Verdict;
  readonly sittings: number;
  readonly batches: number;
  /** How many separate grafts both sides together are worth. */
  readonly effective: number | null;
  readonly spread: number | null;
  readonly tied: readonly TiedFact[];
  readonly turned: readonly TurnedFact[];
  /** Days from grafting to the last word on those alive, the middle of each side, where these lie far apart. */
  readonly ages: { readonly a: number; readonly b: number } | null;
}

/** Days: judged so much later, one side has late losses in it and the other has not (house default). */
const agesApart = 180;

/**
 * Compares the levels of each key: each against the commonest that it can be compared with in the same sittings, as the
 * two ways of a field trial can, else against the commonest of all. p is adjusted for all comparisons of the run.
 *
 * @param pieces early takes are open; sets counted over several levels are left out
 * @returns in the order of the keys, then of the levels. A level nobody wrote is no way to compare, save for `label`.
 */
export function comparisonsOf(pieces: readonly Piece[], keys: readonly GroupKey[], env: FiguresEnv): Comparison[] {
  const found = keys.flatMap((key) => pairsOf(pieces, key, env));
  const adjusted = holm(found.map(({ result }) => result.p));
  return found.map(({ key, a, b, result }, i) => {
    const [restsOnA, restsOnB] = result.kind === 'within' ? inBoth(a.pieces, b.pieces) : [a.pieces, b.pieces];
    const tied = tiedFacts(key, restsOnA, restsOnB, env);
    const turned = turnedFacts(key, a.pieces, b.pieces, env);
    const { low, high, p, difference, kind, sittings, effective, spread } = result;
    const pHolm = adjusted[i] ?? null;
    const apart = !blurred(key, kind, tied);
    return {
      key,
      a: a.level,
      b: b.level,
      kind,
      aTaken: result.a.taken,
      aJudged: result.a.judged,
      bTaken: result.b.taken,
      bJudged: result.b.judged,
      difference,
      low,
      high,
      p,
      pHolm,
      word: verdict(low === null || high === null ? null : { low, high }, pHolm, apart),
      sittings,
      batches: result.clusters,
      effective,
      spread,
      tied,
      turned,
      ages: agesOf(a.pieces, b.pieces),
    };
  });
}

interface Side {
  readonly level: Level;
  readonly pieces: readonly Piece[];
}

interface Pair {
  readonly key: GroupKey;
  readonly a: Side;
  readonly b: Side;
  readonly result: Compared;
}

function pairsOf(pieces: readonly Piece[], key: GroupKey, env: FiguresEnv): Pair[] {
  const levels = new Map<Level, Piece[]>();
  for (const piece of pieces) {
    const level = levelOfPiece(key, piece, env);
    if (level === undefined || (level === null && key !== 'label')) continue;
    push(levels, level, piece);
  }
  const sides = [...levels]
    .map(([level, own]) => ({ level, pieces: own, judged: total(own.map(sure)).judged }))
    .filter((side) => side.judged > 0)
    .sort((one, other) => other.judged - one.judged || byLevel(one.level, other.level));
  const [commonest, ...rest] = sides;
  if (!commonest) return [];
  const against = sharesSitting(key) ? besides(sides) : undefined;
  return rest
    .sort((one, other) => byLevel(one.level, other.level))
    .flatMap((a) => compared(key, a, against?.get(a) ?? commonest));
}

/**
 * For each way the commonest one it can be compared with in the same sittings, of those commoner than itself.
 *
 * @param sides the commonest first
 */
function besides(sides: readonly Side[]): Map<Side, Side> {
  const found = new Map<Side, Side>();
  const bySitting = new Map<string, Set<Side>>();
  for (const side of sides) {
    const own = new Set(side.pieces.map(sittingOf));
    const met = new Set([...own].flatMap((id) => [...(bySitting.get(id) ?? [])]));
    const other = sides.find((one) => met.has(one) && compare(sittingsOf(side.pieces, one.pieces))?.kind === 'within');
    if (other) found.set(side, other);
    for (const id of own) bySitting.set(id, (bySitting.get(id) ?? new Set()).add(side));
  }
  return found;
}

/** In one sitting both are as old and any count is fair; over whole batches only those at least half judged are. */
function compared(key: GroupKey, a: Side, b: Side): Pair[] {
  const together = compare(sittingsOf(a.pieces, b.pieces));
  if (together?.kind === 'within') return [{ key, a, b, result: together }];
  const judged = new Set(halfJudged([...a.pieces, ...b.pieces]));
  const only = (side: Side): Side => ({ ...side, pieces: side.pieces.filter((piece) => judged.has(piece)) });
  const [oldA, oldB] = [only(a), only(b)];
  const result = compare(sittingsOf(oldA.pieces, oldB.pieces));
  return result ? [{ key, a: oldA, b: oldB, result }] : [];
}

function sittingsOf(a: readonly Piece[], b: readonly Piece[]): Sitting[] {
  const sittings = new Map<string, { cluster: string; a: Piece[]; b: Piece[] }>();
  for (const [side, pieces] of [
    ['a', a],
    ['b', b],
  ] as const) {
    for (const piece of pieces) {
      const id = sittingOf(piece);
      const there = sittings.get(id) ?? { cluster: piece.history.batch.key, a: [], b: [] };
      there[side].push(piece);
      sittings.set(id, there);
    }
  }
  return [...sittings.values()].map(({ cluster, a: ofA, b: ofB }) => ({
    cluster,
    a: total(ofA.map(sure)),
    b: total(ofB.map(sure)),
  }));
}

/** Pieces of the sittings that held something judged of both. */
function inBoth(a: readonly Piece[], b: readonly Piece[]): readonly [Piece[], Piece[]] {
  const judgedIn = (pieces: readonly Piece[]) =>
    new Set(pieces.filter((piece) => sure(piece).judged > 0).map((piece) => sittingOf(piece)));
  const [ofA, ofB] = [judgedIn(a), judgedIn(b)];
  return [a.filter((piece) => ofB.has(sittingOf(piece))), b.filter((piece) => ofA.has(sittingOf(piece)))];
}

function agesOf(a: readonly Piece[], b: readonly Piece[]): Comparison['ages'] {
  const [ageA, ageB] = [middleAge(a), middleAge(b)];
  return ageA !== null && ageB !== null && Math.abs(ageA - ageB) > agesApart ? { a: ageA, b: ageB } : null;
}

/** Half of the takes were last spoken of at this age or before. */
function middleAge(pieces: readonly Piece[]): number | null {
  const ages = pieces
    .flatMap((piece) => {
      const { taken } = sure(piece);
      const [first] = piece.cohorts;
      return taken > 0 ? [{ taken, age: (first.named.at(-1)?.day ?? first.madeDay) - first.madeDay }] : [];
    })
    .sort((one, other) => one.age - other.age);
  const all = ages.reduce((sum, { taken }) => sum + taken, 0);
  let seen = 0;
  for (const { taken, age } of ages) {
    seen += taken;
    if (seen * 2 >= all) return age;
  }
  return null;
}
