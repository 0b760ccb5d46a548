import { type Interval, wilson } from './wilson.ts';

/** One cluster judged once: `judged` trials of which `taken` succeeded. Whole counts unless said otherwise. */
export interface Counts {
  readonly taken: number;
  readonly judged: number;
}

export interface Share {
  /** Trials with no outcome yet. */
  readonly open: number;
  readonly judged: number;
  /** taken / judged; null where nothing is judged, like `low` and `high`. */
  readonly rate: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** Share of all if every open one is lost, or is a success; null where there are none at all. */
  readonly worst: number | null;
  readonly best: number | null;
  /** Holds whatever the open ones do: Wilson low of `worst`, Wilson high of `best`. */
  readonly outer: Interval | null;
}

/**
 * The share of one cluster, some of it still open.
 *
 * @param all trials begun; `taken` successes and `failed` failures among them, the rest is open
 * @returns shares 0..1; null where there is nothing to divide by
 *
 * Source: Wilson 1927 for the interval; the outer interval is its union over all that the open ones may do.
 */
export function share(all: number, taken: number, failed: number): Share {
  const judged = taken + failed;
  const open = all - judged;
  const inner = wilson(taken, judged);
  const low = wilson(taken, all);
  const high = wilson(taken + open, all);
  return {
    open,
    judged,
    rate: judged > 0 ? taken / judged : null,
    low: inner?.low ?? null,
    high: inner?.high ?? null,
    worst: all > 0 ? taken / all : null,
    best: all > 0 ? (taken + open) / all : null,
    outer: low && high ? { low: low.low, high: high.high } : null,
  };
}
