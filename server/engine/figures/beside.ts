import type { FiguresEnv } from './env.ts';
import { type Group, groupsOf } from './groups.ts';
import { levelOfPiece } from './levels.ts';
import type { Piece } from './pieces.ts';

/** A batch's figures, those of the other batches of its pair, and all of the pair together, as `stats` gives them. */
export interface Beside {
  readonly own: Group;
  readonly others: readonly Group[];
  /** Null where the batch is the only one of its pair, or no pair is told. */
  readonly together: Group | null;
}

/**
 * @param batch its key
 * @param record of the whole log
 * @returns undefined where nothing of it is made
 */
export function besideOf(batch: string, record: readonly Piece[], env: FiguresEnv): Beside | undefined {
  const mine = record.filter((piece) => piece.history.batch.key === batch);
  const [own] = groupsOf(mine, ['batch'], env, record);
  const [first] = mine;
  if (!own || !first) return undefined;
  const pair = levelOfPiece('pair', first, env);
  // a scion of another plant is no such pair: most pieces of a long record are told by that
  const { scion } = first.cohorts[0];
  const alike = pair
    ? record.filter(
        (piece) => piece.cohorts[0].scion?.text === scion?.text && levelOfPiece('pair', piece, env) === pair,
      )
    : mine;
  const others = groupsOf(
    alike.filter((piece) => piece.history.batch.key !== batch),
    ['batch'],
    env,
    record,
  );
  return { own, others, together: others.length > 0 ? (groupsOf(alike, ['pair'], env, record)[0] ?? null) : null };
}
