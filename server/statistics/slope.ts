import { type FirthRow, firth } from './firth.ts';
import { profile } from './profile.ts';
import type { Counts } from './share.ts';

/** So many of one cluster at one value of a fact. */
export interface AtValue extends Counts {
  readonly value: number;
}

/** `better`: more of the fact went with more takes. */
export type SlopeWord = 'better' | 'worse' | 'unclear' | 'too-few' | 'one-value';

export interface Slope {
  /** Trials and clusters looked at, and how many had the rarer outcome. */
  readonly n: number;
  readonly clusters: number;
  readonly rarer: number;
  /** Log odds for each unit of the fact; null where nothing was fitted, a limit also where it lies too far out. */
  readonly slope: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly p: number | null;
  /** The fact's 10th and 90th percentile, and by how much the rate differs between them (-1..1). */
  readonly lowAt: number | null;
  readonly highAt: number | null;
  readonly points: number | null;
  readonly pointsLow: number | null;
  readonly pointsHigh: number | null;
  readonly word: SlopeWord;
}

/** House defaults: older clusters add little and cost time; fewer losses say nothing (20 % power with 3, 43 % with 11). */
const mostClusters = 60;
const leastRarer = 10;
const leastValues = 3;
/** In scaled units; so steep a curve is a step. */
const furthest = 50;

/**
 * Whether more of a fact went with more takes in the same cluster.
 *
 * @param clusters of each, from the oldest, its counts at each value of the fact; the newest 60 that can say something
 *   are used: neither all nor none taken, and at least two values
 * @returns `one-value` where every cluster had one value only (that compares clusters); `too-few` with under 10 of the
 *   rarer outcome or under 3 values; else a slope for one unit of the fact with profile limits, and the same in rates
 *   between the fact's 10th and 90th percentile around the group's rate, never beyond the values seen
 *
 * Source: Firth 1993 with an intercept for each cluster (simulated false positives 0.03-0.065; without them 0.05-0.34).
 */
export function slope(clusters: readonly (readonly AtValue[])[]): Slope {
  const judged = clusters.map((cluster) => cluster.filter((one) => one.judged > 0));
  const usable = judged.filter((cluster) => mixed(cluster) && values(cluster) > 1).slice(-mostClusters);
  const rows = usable.flat();
  if (judged.every((cluster) => values(cluster) < 2) && rows.length === 0 && judged.some((one) => one.length > 0)) {
    return { ...looked(judged), ...unfitted, word: 'one-value' };
  }
  const { n, rarer } = looked(usable);
  if (rarer < leastRarer || values(rows) < leastValues) return { ...looked(usable), ...unfitted, word: 'too-few' };

  const centre = weightedMean(rows, (one) => one.value);
  const scale = Math.sqrt(weightedMean(rows, (one) => (one.value - centre) ** 2));
  const data: FirthRow[] = usable.flatMap((cluster, stratum) =>
    cluster.map(({ value, taken, judged }) => ({ stratum, facts: [(value - centre) / scale], taken, judged })),
  );
  const fit = firth(data);
  const limits = fit && profile(data, fit, 0, furthest);
  if (!fit || !limits) return { ...looked(usable), ...unfitted, word: 'too-few' };

  const scaled = fit.slopes[0] as number;
  const lowAt = percentile(rows, n, 0.1);
  const highAt = percentile(rows, n, 0.9);
  const rate = weightedMean(rows, (one) => one.taken / one.judged);
  const points = (steepness: number) =>
    rateAt(rate, (steepness * (highAt - centre)) / scale) - rateAt(rate, (steepness * (lowAt - centre)) / scale);
  const { low, high, p } = limits;
  return {
    n,
    clusters: usable.length,
    rarer,
    slope: scaled / scale,
    low: low === null ? null : low / scale,
    high: high === null ? null : high / scale,
    p,
    lowAt,
    highAt,
    points: points(scaled),
    pointsLow: low === null ? null : points(low),
    pointsHigh: high === null ? null : points(high),
    word: low !== null && low > 0 ? 'better' : high !== null && high < 0 ? 'worse' : 'unclear',
  };
}

const unfitted = {
  slope: null,
  low: null,
  high: null,
  p: null,
  lowAt: null,
  highAt: null,
  points: null,
  pointsLow: null,
  pointsHigh: null,
} as const;

function looked(clusters: readonly (readonly AtValue[])[]): { n: number; clusters: number; rarer: number } {
  const rows = clusters.flat();
  const n = rows.reduce((sum, one) => sum + one.judged, 0);
  const taken = rows.reduce((sum, one) => sum + one.taken, 0);
  return { n, clusters: clusters.filter((one) => one.length > 0).length, rarer: Math.min(taken, n - taken) };
}

function mixed(cluster: readonly AtValue[]): boolean {
  const { rarer } = looked([cluster]);
  return rarer > 0;
}

function values(rows: readonly AtValue[]): number {
  return new Set(rows.map((one) => one.value)).size;
}

function weightedMean(rows: readonly AtValue[], of: (one: AtValue) => number): number {
  let sum = 0;
  let weight = 0;
  for (const one of rows) {
    sum += one.judged * of(one);
    weight += one.judged;
  }
  return sum / weight;
}

/** Percentile of all trials' values, by linear interpolation (R's type 7). */
function percentile(rows: readonly AtValue[], n: number, share: number): number {
  const sorted = [...rows].sort((one, other) => one.value - other.value);
  const at = (index: number): number => {
    let seen = 0;
    for (const one of sorted) {
      seen += one.judged;
      if (index < seen) return one.value;
    }
    return sorted.at(-1)?.value ?? 0;
  };
  const place = (n - 1) * share;
  const below = Math.floor(place);
  return at(below) + (place - below) * (at(Math.min(n - 1, below + 1)) - at(below));
}

function rateAt(rate: number, shift: number): number {
  return 1 / (1 + ((1 - rate) / rate) * Math.exp(-shift));
}
