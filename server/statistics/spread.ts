import type { Counts } from './share.ts';

/** Correlation inside a cluster taken as known beforehand, and the degrees of freedom it is worth (house defaults):
 *  at a rate of 75 % a standard deviation of 14 points from cluster to cluster. */
const priorSpread = 0.1;
const priorWeight = 3;

/** Below this the between and within sums of squares hold nothing but rounding: all succeeded, or none. */
const nothing = 1e-12;

export interface Spread {
  /** ANOVA estimator of the correlation inside a cluster; null where it can't be told. May be negative. */
  readonly icc: number | null;
  /** The correlation used: `icc`, if above 0, drawn towards 0.10. 0..1. */
  readonly spread: number;
  /** Degrees of freedom behind it: 3, and one for each cluster beyond the first of its group. */
  readonly df: number;
}

/**
 * How far clusters of the same group differ beyond what luck does.
 *
 * @param groups groups of clusters; each cluster's counts. Clusters with nothing judged are left out. The spread is
 *   measured inside the groups, so that a difference between groups doesn't count as spread.
 * @returns `icc` null with no two clusters in a group, with clusters of one trial only, or where all succeeded or none
 *
 * Source: ANOVA estimator, Ridout, Demétrio & Firth 1999, Biometrics 55:137-148 (from memory); the prior is ours.
 */
export function spreadOf(groups: readonly (readonly Counts[])[]): Spread {
  const judged = groups
    .map((group) => group.filter((cluster) => cluster.judged > 0))
    .filter((group) => group.length > 0);
  const clusters = judged.reduce((sum, group) => sum + group.length, 0);
  const freedom = clusters - judged.length;
  const icc = freedom > 0 ? anova(judged, clusters, freedom) : null;
  const df = priorWeight + Math.max(0, freedom);
  return {
    icc,
    spread: icc === null ? priorSpread : (priorWeight * priorSpread + freedom * Math.max(0, icc)) / df,
    df,
  };
}

/**
 * How many separate trials the clusters are worth: the sum over its design effect.
 *
 * @param clusters counts judged; those of 0 don't matter
 * @param spread correlation inside a cluster, 0..1
 * @returns > 0, or 0 where nothing is judged
 *
 * Source: Kish 1965, Survey Sampling, design effect 1 + (n - 1) rho with unequal n (from memory).
 */
export function effective(clusters: readonly Counts[], spread: number): number {
  const { judged, squares } = sums(clusters);
  return judged > 0 ? judged / (1 + (squares / judged - 1) * spread) : 0;
}

function anova(groups: readonly (readonly Counts[])[], clusters: number, freedom: number): number | null {
  let trials = 0;
  let between = 0;
  let within = 0;
  let size = 0;
  for (const group of groups) {
    const { taken, judged, squares } = sums(group);
    trials += judged;
    size += judged - squares / judged;
    for (const one of group) {
      const rate = one.taken / one.judged;
      between += one.judged * (rate - taken / judged) ** 2;
      within += one.taken * (1 - rate);
    }
  }
  if (!(trials > clusters)) return null;
  size /= freedom;
  const meanBetween = between / freedom;
  const meanWithin = within / (trials - clusters);
  const denominator = meanBetween + (size - 1) * meanWithin;
  return denominator > nothing ? (meanBetween - meanWithin) / denominator : null;
}

/** Σ taken, Σ judged and Σ judged². */
export function sums(clusters: readonly Counts[]): { taken: number; judged: number; squares: number } {
  let taken = 0;
  let judged = 0;
  let squares = 0;
  for (const one of clusters) {
    taken += one.taken;
    judged += one.judged;
    squares += one.judged * one.judged;
  }
  return { taken, judged, squares };
}
