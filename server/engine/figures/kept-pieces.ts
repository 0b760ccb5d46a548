import type { BatchHistory } from '../model.ts';
import type { FiguresEnv } from './env.ts';
import { type Piece, piecesOf } from './pieces.ts';

/** A log's batches cut into pieces: each once, until an edit reaches it. */
export class KeptPieces {
  readonly #cut = new Map<string, readonly Piece[]>();
  #all: readonly Piece[] | undefined;

  /** One list for as long as nothing changes: figures keep what they found by it. */
  of(record: () => readonly BatchHistory[], env: FiguresEnv): readonly Piece[] {
    this.#all ??= record().flatMap((history) => this.#in(history, env));
    return this.#all;
  }

  #in(history: BatchHistory, env: FiguresEnv): readonly Piece[] {
    const { key } = history.batch;
    const known = this.#cut.get(key);
    if (known) return known;
    const pieces = piecesOf(history, env);
    this.#cut.set(key, pieces);
    return pieces;
  }

  /** An edit reached these batches. */
  forget(batches: Iterable<string>): void {
    for (const batch of batches) this.#cut.delete(batch);
    this.#all = undefined;
  }

  clear(): void {
    this.#cut.clear();
    this.#all = undefined;
  }
}
