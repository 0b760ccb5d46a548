import { type Life, riskDays } from './lives.ts';
import { Z95 } from './wilson.ts';

export interface CurvePoint {
  readonly day: number;
  readonly atRisk: number;
  readonly lost: number;
  /** Share still alive after that day. */
  readonly share: number;
  /** Null where no band was asked for, and where none is left. */
  readonly low: number | null;
  readonly high: number | null;
}

/**
 * Kaplan-Meier's curve of those still alive, a point for each day with losses.
 *
 * @param lives losses and last sightings; days since the start
 * @param band whether to give log-log limits (Greenwood); they are too narrow under 20 lives, and where lives of several
 *   clusters are mixed
 * @returns points in order of days; empty where nothing was lost
 *
 * Source: Kaplan & Meier 1958, JASA 53:457-481; Greenwood 1926; log-log limits as R's `survfit(conf.type = "log-log")`.
 */
export function kaplanMeier(lives: readonly Life[], band: boolean): CurvePoint[] {
  let share = 1;
  let hazard = 0;
  return riskDays(lives).map(({ day, atRisk, lost }) => {
    share *= (atRisk - lost) / atRisk;
    hazard += lost / (atRisk * (atRisk - lost));
    return { day, atRisk, lost, share, ...(band && share > 0 ? limits(share, hazard) : { low: null, high: null }) };
  });
}

function limits(share: number, hazard: number): { readonly low: number; readonly high: number } {
  const log = Math.log(share);
  const half = (Z95 * Math.sqrt(hazard)) / Math.abs(log);
  return { low: Math.exp(log * Math.exp(half)), high: Math.exp(log * Math.exp(-half)) };
}

/** The first day on which at most half are alive, no midpoint taken; null where more than half live to the end. */
export function median(points: readonly CurvePoint[]): number | null {
  return points.find((point) => point.share <= 0.5 + 1e-9)?.day ?? null;
}

/** The day by which half of those lost had been lost; null where nothing was. */
export function halfOfLosses(lives: readonly Life[]): number | null {
  const days = riskDays(lives);
  const all = days.reduce((sum, day) => sum + day.lost, 0);
  let seen = 0;
  for (const { day, lost } of days) {
    seen += lost;
    if (seen * 2 >= all) return day;
  }
  return null;
}
