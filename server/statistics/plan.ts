import { betaBinomialTail, fewestTrials } from './beta-binomial.ts';
import type { Counts } from './share.ts';
import { effective, spreadOf, sums } from './spread.ts';

export interface PlanAsked {
  readonly takes: number;
  /** 0..1. */
  readonly confidence: number;
  /** Over how many new clusters the trials will be spread. */
  readonly clusters: number;
  /** Share expected before any record, 0..1; kept inside 0.02..0.98. */
  readonly prior: number;
  /** For how many trials each step of the chain counts against the record of the next; 4 by default. */
  readonly weight?: number;
  /** Records from wide to narrow, disjoint, each as groups of clusters (one pair's batches are a group). */
  readonly records: readonly (readonly (readonly Counts[])[])[];
}

export interface Planned {
  /** Trials to make, null where no number up to the cap will do. */
  readonly trials: number | null;
  /** The most that were looked at: 1,000, or 20 for each take wanted. */
  readonly cap: number;
  /** Chance that `trials` (or the cap) give the takes wanted. */
  readonly chance: number;
  /** Takes to expect of `trials`; null without them. */
  readonly expected: number | null;
  /** Rate expected of the next cluster. */
  readonly mean: number;
  readonly spread: number;
  /** Separate trials behind the narrowest record. */
  readonly effective: number;
  /** Next rate is drawn from Beta(a, b). */
  readonly a: number;
  readonly b: number;
}

/** House default: one's own record soon outweighs it. */
const usualWeight = 4;

/**
 * How many trials to make so that enough succeed, from a chain of records and the spread between clusters.
 *
 * @returns never null: without a record the prior answers
 *
 * Source: beta-binomial prediction with the variance of the next cluster's rate matched; the beta in place of the mixture
 * errs by under 0.005 (tests/statistics/coverage.long.ts simulates what it reaches). The chain is ours.
 */
export function plan({ takes, confidence, clusters, prior, weight = usualWeight, records }: PlanAsked): Planned {
  const { spread } = spreadOf(records.flat());
  let mean = Math.min(0.98, Math.max(0.02, prior));
  let worth = 0;
  for (const record of records) {
    const { taken, judged } = sums(record.flat());
    worth = effective(record.flat(), spread);
    if (judged > 0) mean = (weight * mean + (worth * taken) / judged) / (weight + worth);
  }
  const known = weight + worth;
  const strength = (known + 1) / (1 + (spread / clusters) * known) - 1;
  const a = mean * strength;
  const b = (1 - mean) * strength;
  const cap = Math.max(1000, 20 * takes);
  const trials = fewestTrials(takes, confidence, a, b, cap);
  return {
    trials,
    cap,
    chance: betaBinomialTail(takes, trials ?? cap, a, b),
    expected: trials === null ? null : trials * mean,
    mean,
    spread,
    effective: worth,
    a,
    b,
  };
}
