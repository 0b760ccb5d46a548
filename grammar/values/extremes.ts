/*
 * `Math.max(...all)` puts all on the call's stack, which ends at some hundred thousand: a log's lines may be more.
 */

/** The largest; negative infinity of none. */
export function greatest(numbers: Iterable<number>): number {
  let found = Number.NEGATIVE_INFINITY;
  for (const number of numbers) if (number > found) found = number;
  return found;
}

/** The smallest; infinity of none. */
export function least(numbers: Iterable<number>): number {
  let found = Number.POSITIVE_INFINITY;
  for (const number of numbers) if (number < found) found = number;
  return found;
}
