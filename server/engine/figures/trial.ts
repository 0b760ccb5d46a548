import type { Intervals } from '#grammar/statement.ts';
import { fromDay } from '#grammar/values/date.ts';
import { normalize } from '#grammar/values/intervals.ts';
import { benchOrder } from '#server/statistics/bench-order.ts';
import { spreadOf } from '#server/statistics/spread.ts';
import { clustersEach, roundedUp, smallestPoints, trialsEach } from '#server/statistics/trial.ts';
import type { BatchHistory } from '../model.ts';
import type { FiguresEnv } from './env.ts';
import { byPair, type GroupKey, groupKeys, levelOf, levelOfPiece, sharesSitting, wordsOfKey } from './levels.ts';
import { byBatch, clustersOf, halfJudged, type Piece, piecesOf, total } from './pieces.ts';
import { paceOf } from './plan.ts';

export interface TrialAsked {
  readonly ways: readonly [string, string];
  /** The difference to see, 0..1; 0.2 unless one says so. */
  readonly points?: number;
  readonly seed?: number;
  /** Which key is meant, where the ways are levels of several. */
  readonly key?: GroupKey;
}

/** A field trial, as `trial` gives it. */
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
  /** What its rate is of: the two ways, all of the record, or nothing but what practice expects. */
  readonly from: 'ways' | 'record' | 'practice';
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
  const fitting = asked.ways[0] === asked.ways[1] ? [] : keysOf(asked.ways, pieces, env);
  const keys = asked.key === undefined ? fitting : fitting.filter((key) => key === asked.key);
  const [key] = keys;
  if (!key || keys.length > 1) return { keys };
  const points = asked.points ?? 0.2;
  const { rate, from } = rateOf(key, asked.ways, pieces, env);
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
    from,
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

/**
 * What both ways did together, weighted by grafts; without a record of them that of all, else the prior. Batches under
 * half judged are left out: of them losses are known and takes are not.
 */
function rateOf(
  key: GroupKey,
  ways: readonly string[],
  pieces: readonly Piece[],
  env: FiguresEnv,
): { readonly rate: number; readonly from: TrialResult['from'] } {
  const judgedPieces = halfJudged(pieces);
  const ofWays = judgedPieces.filter((piece) => ways.includes(levelOfPiece(key, piece, env) ?? ''));
  for (const [some, from] of [
    [ofWays, 'ways'],
    [judgedPieces, 'record'],
  ] as const) {
    const { taken, judged } = total(clustersOf(some));
    // a rate of 0 or 1 in a few grafts is no rate to plan from
    if (judged > 0) return { rate: Math.min(0.95, Math.max(0.05, taken / judged)), from };
  }
  return { rate: env.practice.figure('prior', { day: env.day })?.figure ?? usualRate, from: 'practice' };
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

/** Numbers of the grafts one after another, from `first` on, and the way of each. */
export interface BenchSitting {
  readonly first: number;
  readonly order: string;
}

/** The order cut into sittings, each of whole runs, so that both ways are in it alike. */
export function benchSittings({ order, sittings }: Trial): BenchSitting[] {
  if (order === null || sittings === null) return [];
  const runs = Math.ceil(order.length / runOf);
  return Array.from({ length: sittings }, (_, sitting) => {
    const [from, to] = [sitting, sitting + 1].map((at) => Math.ceil((runs * at) / sittings) * runOf);
    return { first: (from ?? 0) + 1, order: order.slice(from, to) };
  }).filter((sitting) => sitting.order.length > 0);
}

/** The numbers of each way. */
export function numbersByWay({ first, order }: BenchSitting): { readonly a: Intervals; readonly b: Intervals } {
  const at = (way: string) => normalize([...order].flatMap((one, i) => (one === way ? [first + i, first + i] : [])));
  return { a: at('A'), b: at('B') };
}
