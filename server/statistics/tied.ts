/** How far two ways can be told apart from another fact. */
export type TiedWord = 'never-apart' | 'mostly-together' | 'apart';

export interface Tied {
  /** Share of all judged that lies in levels of the fact where both ways were judged. */
  readonly overlap: number;
  readonly word: TiedWord;
}

/**
 * Whether a fact went together with the two ways, so that either could be the cause.
 *
 * @param levels of each level of the fact, how many of A and of B were judged there; "not written" is a level, too
 * @returns null where nothing is judged. No overlap: `never-apart`; under half: `mostly-together`.
 *
 * Source: the overlap is ours, after the positivity condition of stratified comparison.
 */
export function tied(levels: readonly { readonly a: number; readonly b: number }[]): Tied | null {
  let shared = 0;
  let all = 0;
  for (const { a, b } of levels) {
    all += a + b;
    if (a > 0 && b > 0) shared += a + b;
  }
  if (!(all > 0)) return null;
  const overlap = shared / all;
  return { overlap, word: shared === 0 ? 'never-apart' : overlap < 0.5 ? 'mostly-together' : 'apart' };
}
