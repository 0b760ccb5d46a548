import { fromDay } from '#grammar/values/date.ts';
import { benchOrder } from '#server/statistics/bench-order.ts';
import { spreadOf } from '#server/statistics/spread.ts';
import { clustersEach, roundedUp, smallestPoints, trialsEach } from '#server/statistics/trial.ts';
import type { BatchHistory } from '../model.ts';
import type { FiguresEnv } from './env.ts';
import { byPair, type GroupKey, groupKeys, levelOf, levelOfPiece, sharesSitting, wordsOfKey } from './levels.ts';
import { byBatch, clustersOf, type Piece, piecesOf, total } from './pieces.ts';
import { paceOf } from './plan.ts';

export interface TrialAsked {
  readonly ways: readonly [string, string];
  /** The difference to see, 0..1; 0.2 unless one says so. */
  readonly points?: number;
  readonly seed?: number;
}

/** A field trial, as `trial` gives it (statistics, 8). */
export interface Trial {
  readonly ways: readonly [string, string];
  /** The rate it starts from, by the record, else the prior. */
  readonly rate: number;
  readonly points: number;
  /** Grafts of each way, half and half in each of `sittings`; null where a batch can hold one way only. */
  readonly each: number | null;
  readonly sittings: number | null;
  /** Whole batches of each way, and how many it takes however large they are. */
  readonly batchesEach: number;
  readonly floor: number;
  /** Within three years at the nursery's pace. */
  readonly reachable: boolean;
  /** The smallest difference within reach, in steps of 5 points to 40; null where none is. */
  readonly smallest: number | null;
  readonly seed: number;
  /** For each graft its way, A or B, in runs of six; null where whole batches are compared. */
  readonly order: string | null;
}

export interface TrialResult {
  readonly trial: Trial;
  readonly key: GroupKey;
  /** Batches and grafts a year. */
  readonly pace: { readonly batches: number; readonly grafts: number };
}

/** Why there is no trial: the ways are levels of no common key, of several, or one and the same. */
export type NoTrial = { readonly keys: readonly GroupKey[] };

const leastSittings = 4;
const runOf = 6;
const years = 3;
const usualPace = { batches: 2, grafts: 40 };
const usualRate = 0.6;
const usualSize = 20;

/**
 * How large a trial must be to tell two ways apart, whether the nursery can do it in three years, and a fair order at the
 * bench.
 *
 * @returns the keys both ways fit where that isn't one: none, or several
 */
export function trialOf(histories: Iterable<BatchHistory>, asked: TrialAsked, env: FiguresEnv): TrialResult | NoTrial {
  const pieces = [...histories].flatMap((history) => piecesOf(history, env));
  const keys = asked.ways[0] === asked.ways[1] ? [] : keysOf(asked.ways, pieces, env);
  const [key] = keys;
  if (!key || keys.length > 1) return { keys };
  const points = asked.points ?? 0.2;
  const rate = rateOf(key, asked.ways, pieces, env);
  const { spread } = spreadOf([...byPair(pieces, env).values()].map(clustersOf));
  const pace = paceOf(pieces) ?? usualPace;
  const whole = !sharesSitting(key);
  const size = usualSizeOf(pieces);
  const each = (by: number) => roundedUp(trialsEach(rate, by));
  const batchesEach = (by: number) => clustersEach(rate, by, size, spread);
  const inReach = (by: number): boolean =>
    whole ? 2 * batchesEach(by) <= years * pace.batches : 2 * each(by) <= years * pace.grafts;
  const seed = asked.seed ?? monthOf(env.day);
  const grafts = each(points);
  return {
    key,
    pace,
    trial: {
      ways: asked.ways,
      rate,
      points,
      each: whole ? null : grafts,
      sittings: whole ? null : leastSittings,
      batchesEach: batchesEach(points),
      floor: clustersEach(rate, points, Number.POSITIVE_INFINITY, spread),
      reachable: inReach(points),
      smallest: smallestPoints(inReach),
      seed,
      order: whole
        ? null
        : benchOrder(seed, 2 * grafts, 2, runOf)
            .map((way) => 'AB'[way])
            .join(''),
    },
  };
}

/** Keys in which both ways are levels: on record, or words of the notation. */
function keysOf(ways: readonly [string, string], pieces: readonly Piece[], env: FiguresEnv): GroupKey[] {
  const cohorts = pieces.flatMap((piece) => piece.cohorts);
  return groupKeys.filter((key) => {
    return ways.every(
      (way) => wordsOfKey[key]?.includes(way) || cohorts.some((cohort) => levelOf(key, cohort, env) === way),
    );
  });
}

/** What both ways did together, weighted by grafts; without a record of them that of all, else the prior. */
function rateOf(key: GroupKey, ways: readonly string[], pieces: readonly Piece[], env: FiguresEnv): number {
  const ofWays = pieces.filter((piece) => ways.includes(levelOfPiece(key, piece, env) ?? ''));
  for (const some of [ofWays, pieces]) {
    const { taken, judged } = total(clustersOf(some));
    // a rate of 0 or 1 in a few grafts is no rate to plan from
    if (judged > 0) return Math.min(0.95, Math.max(0.05, taken / judged));
  }
  return env.practice.figure('prior', { day: env.day })?.figure ?? usualRate;
}

function usualSizeOf(pieces: readonly Piece[]): number {
  const batches = [...byBatch(pieces).values()];
  if (batches.length === 0) return usualSize;
  const grafted = pieces.reduce((sum, piece) => sum + piece.counts.grafted, 0);
  return Math.max(1, Math.round(grafted / batches.length));
}

function monthOf(day: number): number {
  const { year, month } = fromDay(day);
  return year * 100 + month;
}

/** Where a trial is laid out under a batch's name: the numbers of each way. */
export function numbersByWay(order: string): { readonly a: readonly number[]; readonly b: readonly number[] } {
  const at = (way: string) => [...order].flatMap((one, i) => (one === way ? [i + 1] : []));
  return { a: at('A'), b: at('B') };
}
