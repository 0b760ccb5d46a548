import type { Intervals } from '../statement.ts';

/** How many numbers a set holds. */
export function size(set: Intervals): number {
  let count = 0;
  for (let i = 0; i < set.length; i += 2) count += at(set, i + 1) - at(set, i) + 1;
  return count;
}

export function contains(set: Intervals, number: number): boolean {
  for (let i = 0; i < set.length; i += 2) if (number >= at(set, i) && number <= at(set, i + 1)) return true;
  return false;
}

/** Sorted and disjoint, neighbours joined, from ranges in any order; a range written backwards is turned. */
export function normalize(ranges: readonly number[]): Intervals {
  if (isNormal(ranges)) return ranges;
  const pairs: [number, number][] = [];
  for (let i = 0; i < ranges.length; i += 2) {
    const [a, b] = [at(ranges, i), at(ranges, i + 1)];
    pairs.push(a <= b ? [a, b] : [b, a]);
  }
  pairs.sort((a, b) => a[0] - b[0]);
  const out: number[] = [];
  for (const [low, high] of pairs) {
    const last = out.length - 1;
    if (last > 0 && low <= at(out, last) + 1) out[last] = Math.max(at(out, last), high);
    else out.push(low, high);
  }
  return out;
}

/** As nearly every set is written: rising, with room between. */
function isNormal(ranges: readonly number[]): boolean {
  for (let i = 0; i < ranges.length; i += 2)
    if (at(ranges, i) > at(ranges, i + 1) || (i > 0 && at(ranges, i) <= at(ranges, i - 1) + 1)) return false;
  return true;
}

export const union = (a: Intervals, b: Intervals): Intervals =>
  a.length === 0 ? b : b.length === 0 ? a : normalize([...a, ...b]);

export function intersect(a: Intervals, b: Intervals): Intervals {
  const out: number[] = [];
  for (let i = 0, j = 0; i < a.length && j < b.length; ) {
    const low = Math.max(at(a, i), at(b, j));
    const high = Math.min(at(a, i + 1), at(b, j + 1));
    if (low <= high) out.push(low, high);
    if (at(a, i + 1) < at(b, j + 1)) i += 2;
    else j += 2;
  }
  return out;
}

export function subtract(a: Intervals, b: Intervals): Intervals {
  // a set that stays whole stays itself: most do, and a log holds one for each line of grafts
  if (apart(a, b)) return a;
  const out: number[] = [];
  let j = 0;
  for (let i = 0; i < a.length; i += 2) {
    let low = at(a, i);
    const high = at(a, i + 1);
    while (j > 0 && at(b, j - 2) >= low) j -= 2;
    for (; j < b.length && at(b, j) <= high; j += 2) {
      if (at(b, j + 1) < low) continue;
      if (at(b, j) > low) out.push(low, at(b, j) - 1);
      low = at(b, j + 1) + 1;
      if (low > high) break;
    }
    if (low <= high) out.push(low, high);
  }
  return out;
}

/** Nothing in one lies between the ends of the other. */
function apart(a: Intervals, b: Intervals): boolean {
  if (a.length === 0 || b.length === 0) return true;
  return at(a, a.length - 1) < at(b, 0) || at(b, b.length - 1) < at(a, 0);
}

export const same = (a: Intervals, b: Intervals): boolean => a.length === b.length && a.every((x, i) => x === b[i]);

/** `1..12,14`: as the notation writes a set's numbers. */
export function intervalsText(set: Intervals): string {
  const parts: string[] = [];
  for (let i = 0; i < set.length; i += 2) {
    const [low, high] = [at(set, i), at(set, i + 1)];
    parts.push(low === high ? `${low}` : high === low + 1 ? `${low},${high}` : `${low}..${high}`);
  }
  return parts.join(',');
}

const at = (set: readonly number[], i: number): number => set[i] as number;
