import { type Ranking as Ranked, ranking, rankingOfGroups } from '#server/statistics/ranking.ts';
import type { FiguresEnv } from './env.ts';
import { byLevel } from './groups.ts';
import { byPair } from './levels.ts';
import { byBatch, clustersOf, halfJudged, type Piece, total } from './pieces.ts';

/** Batches or pairs against the usual rate, as `stats` gives it; shares 0..1. */
export interface Ranking {
  readonly usual: number;
  readonly spread: number;
  /** The best to expect first, ties by name. */
  readonly items: readonly {
    readonly name: string;
    readonly taken: number;
    readonly judged: number;
    readonly estimate: number;
    readonly word: 'better' | 'worse' | 'same';
  }[];
}

interface Row {
  readonly name: string;
  readonly pieces: readonly Piece[];
}

/**
 * @param by batches, or pairs of several batches each; early takes are open, batches under half judged left out
 * @returns null with fewer than two in which something is judged
 */
export function rankingOf(pieces: readonly Piece[], by: 'batch' | 'pair', env: FiguresEnv): Ranking | null {
  const judged = halfJudged(pieces);
  const rows = (by === 'batch' ? batchRows(judged) : pairRows(judged, env)).filter(
    (row) => total(clustersOf(row.pieces)).judged > 0,
  );
  const clusters = rows.map((row) => clustersOf(row.pieces));
  const ranked = by === 'batch' ? ranking(clusters.map(total)) : rankingOfGroups(clusters);
  return ranked && inOrder(rows, ranked);
}

function inOrder(rows: readonly Row[], { usual, spread, items }: Ranked): Ranking {
  const named = rows.flatMap(({ name, pieces }, i) => {
    const item = items[i];
    return item ? [{ name, ...total(clustersOf(pieces)), estimate: item.estimate, word: item.word }] : [];
  });
  return { usual, spread, items: named.sort((a, b) => b.estimate - a.estimate || byLevel(a.name, b.name)) };
}

function batchRows(pieces: readonly Piece[]): Row[] {
  return [...byBatch(pieces).values()].flatMap((own) =>
    own[0] ? [{ name: own[0].history.batch.name, pieces: own }] : [],
  );
}

function pairRows(pieces: readonly Piece[], env: FiguresEnv): Row[] {
  return [...byPair(pieces, env)].flatMap(([name, own]) => (name === null ? [] : [{ name, pieces: own }]));
}
