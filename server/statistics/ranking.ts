import betaQuantile from '@stdlib/stats-base-dists-beta-quantile';
import type { Counts } from './share.ts';
import { effective, spreadOf, sums } from './spread.ts';

export type RankWord = 'better' | 'worse' | 'same';

export interface Ranked {
  /** The rate to expect of it, drawn towards the usual one as far as its own counts are few. */
  readonly estimate: number;
  readonly low: number;
  readonly high: number;
  readonly word: RankWord;
}

export interface Ranking {
  readonly usual: number;
  readonly spread: number;
  /** In the order given; an item with nothing judged stands at the usual rate. */
  readonly items: readonly Ranked[];
}

/** A correlation of 1 would leave nothing to draw towards. */
const mostSpread = 0.9;

/**
 * Which of many clusters did better or worse than usual, without the small ones leading by luck.
 *
 * @param clusters counts of each; may be fractional (effective counts)
 * @returns shares 0..1; null with fewer than two clusters in which something is judged. `low` and `high` decide the word
 *   and are not for showing: beside each its own Wilson interval stands.
 *
 * Source: beta-binomial shrinkage with the moment estimator of the spread, Morris 1983, JASA 78:47-65 for allowing for
 * the usual rate being estimated. No maximum likelihood: it ends at a border in most small records.
 */
export function ranking(clusters: readonly Counts[]): Ranking | null {
  if (clusters.filter((one) => one.judged > 0).length < 2) return null;
  return ranked(clusters, spreadOf([clusters]).spread);
}

/**
 * The same for groups of clusters (all batches of one pair, say): each group counts as many separate trials as its
 * clusters are worth, with the spread measured inside groups.
 *
 * @param groups clusters of each group
 * @returns items in the order of the groups; null with fewer than two groups in which something is judged
 */
export function rankingOfGroups(groups: readonly (readonly Counts[])[]): Ranking | null {
  const { spread } = spreadOf(groups);
  return ranking(
    groups.map((group) => {
      const { taken, judged } = sums(group);
      const worth = effective(group, spread);
      return { taken: judged > 0 ? (taken / judged) * worth : 0, judged: worth };
    }),
  );
}

function ranked(clusters: readonly Counts[], measured: number): Ranking {
  const spread = Math.min(mostSpread, measured);
  let weights = 0;
  let weighted = 0;
  for (const { taken, judged } of clusters) {
    if (!(judged > 0)) continue;
    const weight = judged / (1 + (judged - 1) * spread);
    weights += weight;
    weighted += (weight * taken) / judged;
  }
  const usual = (weighted + 0.5) / (weights + 1);
  const usualVariance = (usual * (1 - usual)) / (weights + 2);
  const prior = 1 / spread - 1;
  const items = clusters.map(({ taken, judged }): Ranked => {
    if (!(judged > 0)) return { estimate: usual, low: 0, high: 1, word: 'same' };
    const estimate = (usual * prior + taken) / (prior + judged);
    const pull = prior / (prior + judged);
    const variance = (estimate * (1 - estimate)) / (prior + judged + 1) + pull * pull * usualVariance;
    const total = (estimate * (1 - estimate)) / variance - 1;
    const low = betaQuantile(0.025, estimate * total, (1 - estimate) * total);
    const high = betaQuantile(0.975, estimate * total, (1 - estimate) * total);
    const word: RankWord = low > usual ? 'better' : high < usual ? 'worse' : 'same';
    return { estimate, low, high, word };
  });
  return { usual, spread, items };
}
