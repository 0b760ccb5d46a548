import type { Day } from '#grammar/statement.ts';
import { greatest } from '#grammar/values/extremes.ts';
import { size } from '#grammar/values/intervals.ts';
import { type CurvePoint, halfOfLosses, kaplanMeier, median } from '#server/statistics/kaplan-meier.ts';
import { atRiskOn, type Life } from '#server/statistics/lives.ts';
import { byBatch, firstDay, type Piece } from './pieces.ts';

/** Losses over time, as `stats` gives it; days since grafting, shares of those still alive. */
export interface Survival {
  readonly points: readonly CurvePoint[];
  /** First day on which at most half are alive; null where more than half live to the end. */
  readonly median: number | null;
  /** Half of those lost had been seen lost by this day. */
  readonly halfOfLosses: number | null;
  /** Lost after they were called taken. */
  readonly late: number;
  /** How many were still watched at 0, 30, 60, 90, 180, 365 days and at the end. */
  readonly watched: readonly { readonly day: number; readonly count: number }[];
}

/** Limits are too narrow for fewer; over several batches there are none at all. */
const leastForBand = 20;
const watchDays = [0, 30, 60, 90, 180, 365];

/**
 * @param pieces a lost graft counts on the day it was seen lost, a living one up to the last line that spoke of it, so
 *   that silence proves nothing
 * @returns null where no graft was made
 */
export function survivalOf(pieces: readonly Piece[]): Survival | null {
  const lives = pieces.flatMap(livesOf);
  const grafted = pieces.reduce((sum, piece) => sum + piece.counts.grafted, 0);
  if (grafted === 0) return null;
  const points = kaplanMeier(lives, byBatch(pieces).size === 1 && grafted >= leastForBand);
  const end = greatest(lives.map(({ day }) => day));
  const days = [...watchDays.filter((day) => day < end), end];
  return {
    points,
    median: median(points),
    halfOfLosses: halfOfLosses(lives),
    late: pieces.reduce((sum, piece) => sum + piece.counts.late, 0),
    watched: days.map((day) => ({ day, count: atRiskOn(lives, day) })),
  };
}

/** The share still alive on a day since grafting. */
export function aliveOn({ points }: Survival, day: number): number {
  return points.findLast((point) => point.day <= day)?.share ?? 1;
}

function livesOf(piece: Piece): Life[] {
  const { cohorts, tallies, counts } = piece;
  const made = firstDay(piece);
  const losses: { day: Day; count: number }[] = [];
  for (const { fail, counted, numbers, madeDay } of cohorts) {
    if (fail && !counted) losses.push({ day: fail.day - madeDay, count: size(numbers) });
  }
  for (const { verb, day, count } of tallies) if (verb === 'fail') losses.push({ day: day - made, count });
  let left = counts.failed;
  const lives: Life[] = [];
  for (const { day, count } of losses.sort((a, b) => a.day - b.day)) {
    const lost = Math.min(left, count);
    if (lost > 0) lives.push({ day: Math.max(0, day), lost: true, count: lost });
    left -= lost;
  }
  const alive = counts.grafted - counts.failed;
  if (alive > 0) lives.push({ day: lastWord(piece) - made, lost: false, count: alive });
  return lives;
}

/** The last line that spoke of those still alive. */
function lastWord({ cohorts }: Piece): Day {
  const living = cohorts.filter((cohort) => !cohort.fail || cohort.counted);
  const days = (living.length > 0 ? living : cohorts).map(({ named, madeDay }) => named.at(-1)?.day ?? madeDay);
  return greatest(days);
}
