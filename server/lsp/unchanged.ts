import type { Line } from '#grammar/statement.ts';

/** How many lines at the top and at the bottom of a file are those that an answer was worked out from. */
export function unchanged(before: readonly Line[], now: readonly Line[]): [above: number, below: number] {
  const most = Math.min(before.length, now.length);
  let above = 0;
  while (above < most && before[above] === now[above]) above++;
  let below = 0;
  while (below < most - above && before[before.length - 1 - below] === now[now.length - 1 - below]) below++;
  return [above, below];
}
