/** Of an older, finished cluster: how many were still open at a certain age, and how many of those succeeded later. */
export interface Finished {
  readonly stillOpen: number;
  readonly laterTaken: number;
}

export interface Expected {
  /** Share of those open at that age that succeed in the end. */
  readonly share: number;
  /** Share of all that will have succeeded. */
  readonly estimate: number;
}

/** Fewer older clusters, or fewer trials in them, say too little about those still open (house default). */
const leastClusters = 3;
const leastTrials = 30;

/**
 * What a cluster that is half done comes to, from what became of others that were open at the same age.
 *
 * @param all trials begun, `taken` of them successes, `open` without an outcome
 * @returns shares 0..1, or null with fewer than 3 finished clusters or fewer than 30 trials open at that age in them,
 *   or where there is no trial
 *
 * Source: (later taken + 1) / (such trials + 2) is Laplace's rule of succession, so none and all never give 0 or 1.
 */
export function expected(all: number, taken: number, open: number, finished: readonly Finished[]): Expected | null {
  const stillOpen = finished.reduce((sum, one) => sum + one.stillOpen, 0);
  if (!(all > 0) || finished.length < leastClusters || stillOpen < leastTrials) return null;
  const later = finished.reduce((sum, one) => sum + one.laterTaken, 0);
  const share = (later + 1) / (stillOpen + 2);
  return { share, estimate: (taken + share * open) / all };
}
