/**
 * Holm's step-down adjustment for having looked at many comparisons.
 *
 * @param ps p of each comparison of the run; null where a comparison has none, which doesn't count as a look
 * @returns adjusted p in the same order, at most 1, never below its own p
 *
 * Source: Holm 1979, Scand J Stat 6:65-70; as R's `p.adjust(method = "holm")`.
 */
export function holm(ps: readonly (number | null)[]): (number | null)[] {
  const order = ps.flatMap((p, index) => (p === null ? [] : [{ p, index }])).sort((one, other) => one.p - other.p);
  const adjusted: (number | null)[] = ps.map(() => null);
  let floor = 0;
  order.forEach(({ p, index }, rank) => {
    floor = Math.min(1, Math.max(floor, p * (order.length - rank)));
    adjusted[index] = floor;
  });
  return adjusted;
}
