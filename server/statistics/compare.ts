import { acrossClusters } from './across.ts';
import type { Stratum } from './exact-test.ts';
import type { Counts } from './share.ts';
import { withinStrata } from './within.ts';

/** What was judged of both ways in one sitting; a sitting belongs to one cluster. */
export interface Sitting extends Stratum {
  readonly cluster: string;
}

export type ComparisonKind = 'within' | 'across' | 'one-each';

export interface Compared {
  readonly kind: ComparisonKind;
  /** The trials the comparison rests on; of `within` those of the sittings that held both. */
  readonly a: Counts;
  readonly b: Counts;
  readonly difference: number;
  /** Null where there is one cluster a side. */
  readonly low: number | null;
  readonly high: number | null;
  readonly p: number | null;
  /** Sittings that held both. */
  readonly sittings: number;
  /** Clusters with something judged on either side, of those the comparison rests on. */
  readonly clusters: number;
  /** How many separate trials both sides together are worth; null where that isn't known. */
  readonly effective: number | null;
  readonly spread: number | null;
}

/** So many of each way in sittings that hold both, and they alone are compared (house default). */
const enoughTogether = 10;

/**
 * A against B by the best comparison the record allows: within sittings that held both; else over whole clusters; else,
 * with one cluster a side, just how those two did.
 *
 * @param sittings counts of each way in each sitting, whole numbers
 * @returns difference A - B (-1..1); null where a side has nothing judged. Swapping the sides turns the signs.
 */
export function compare(sittings: readonly Sitting[]): Compared | null {
  const all = { a: total(sittings, 'a'), b: total(sittings, 'b') };
  if (!(all.a.judged > 0 && all.b.judged > 0)) return null;
  const both = sittings.filter(({ a, b }) => a.judged > 0 && b.judged > 0);
  const together = { a: total(both, 'a'), b: total(both, 'b') };
  const enough = Math.min(together.a.judged, together.b.judged) >= enoughTogether;
  const nothingElse = together.a.judged === all.a.judged && together.b.judged === all.b.judged;
  const a = clustersOf(sittings, 'a');
  const b = clustersOf(sittings, 'b');
  const oneEach = a.length === 1 && b.length === 1;
  if (both.length > 0 && (enough || nothingElse || oneEach)) return within(both, together);
  const clusters = clusterCount(sittings);
  const rest = { ...all, sittings: both.length, clusters };
  const difference = all.a.taken / all.a.judged - all.b.taken / all.b.judged;
  if (oneEach) {
    return { kind: 'one-each', ...rest, difference, low: null, high: null, p: null, effective: null, spread: null };
  }
  const across = acrossClusters(a, b);
  if (!across) return null;
  const { low, high, p, spread } = across;
  return {
    kind: 'across',
    ...rest,
    difference,
    low,
    high,
    p,
    spread,
    effective: across.effectiveA + across.effectiveB,
  };
}

function within(both: readonly Sitting[], together: { readonly a: Counts; readonly b: Counts }): Compared | null {
  const result = withinStrata(both);
  if (!result) return null;
  return {
    kind: 'within',
    ...together,
    difference: result.difference,
    low: result.low,
    high: result.high,
    p: result.p,
    sittings: result.strata,
    clusters: clusterCount(both),
    effective: result.effectiveA + result.effectiveB,
    spread: null,
  };
}

/** One side's clusters; where the ways share a cluster but none of its sittings, each sitting is one. */
function clustersOf(sittings: readonly Sitting[], side: 'a' | 'b'): Counts[] {
  const counts: Counts[] = [];
  for (const group of byCluster(sittings).values()) {
    const meet = group.some(({ a, b }) => a.judged > 0 && b.judged > 0);
    const shared = group.some(({ a }) => a.judged > 0) && group.some(({ b }) => b.judged > 0);
    if (shared && !meet) for (const one of group) counts.push(one[side]);
    else counts.push(total(group, side));
  }
  return counts.filter((one) => one.judged > 0);
}

function clusterCount(sittings: readonly Sitting[]): number {
  return byCluster(sittings.filter(({ a, b }) => a.judged > 0 || b.judged > 0)).size;
}

function byCluster(sittings: readonly Sitting[]): Map<string, Sitting[]> {
  const groups = new Map<string, Sitting[]>();
  for (const sitting of sittings) {
    const group = groups.get(sitting.cluster);
    if (group) group.push(sitting);
    else groups.set(sitting.cluster, [sitting]);
  }
  return groups;
}

function total(sittings: readonly Sitting[], side: 'a' | 'b'): Counts {
  let taken = 0;
  let judged = 0;
  for (const sitting of sittings) {
    taken += sitting[side].taken;
    judged += sitting[side].judged;
  }
  return { taken, judged };
}
