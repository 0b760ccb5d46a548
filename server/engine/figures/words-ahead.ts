import { otherRate } from '#server/statistics/trial.ts';
import { countText, numberText, percent } from '../say.ts';
import type { PlanResult } from './plan.ts';
import type { TrialResult } from './trial.ts';
import { keyNouns } from './words.ts';

/** How many to graft and why, in a few sentences. */
export function planSentence({ plan, cap, rate, range, overThree }: PlanResult): string {
  const { takes, confidence, graft, chance, because } = plan;
  if (graft === null) {
    return `No number of grafts up to ${numberText(cap)} makes ${countText(takes, 'take')} ${percent(confidence)} sure; with ${numberText(cap)} it is ${percent(chance)}.`;
  }
  const out = [`For ${countText(takes, 'take')}, ${timesText(confidence)}: graft ${numberText(graft)}.`];
  if (because.naive < graft) {
    out.push(`(${takes} / ${rate.toFixed(2)} = ${numberText(because.naive)} would reach it about half the time.)`);
  }
  if (graft > 2 * because.naive) {
    if (range)
      out.push(`So many because your batches have gone from ${Math.round(range.low * 100)} to ${percent(range.high)}.`);
    else if (because.judged === 0) out.push('So many because nothing is on record yet.');
    else out.push('So many because one batch says little about the next.');
  }
  if (overThree !== null) out.push(`In 3 batches on different days ${numberText(overThree)} do.`);
  if (because.judged === 0)
    out.push(
      `It rests on ${percent(because.prior.rate)} (${because.prior.source}), worth ${countText(because.prior.weight, 'graft')}.`,
    );
  return out.join(' ');
}

/** `9 times in 10`. */
function timesText(confidence: number): string {
  for (const of of [10, 20, 100]) {
    const times = confidence * of;
    if (Math.abs(times - Math.round(times)) < 1e-9) return `${Math.round(times)} times in ${of}`;
  }
  return `with a chance of ${percent(confidence)}`;
}

/** How large a trial, whether it is in reach, and what is. */
export function trialSentence({ trial, key, pace }: TrialResult): string {
  const { rate, points, each, sittings, batchesEach, floor, reachable, smallest } = trial;
  const which = otherRate(rate, points) > rate ? 'better' : 'worse';
  const better = `From ${percent(rate)}, to see a way that is ${Math.round(points * 100)} points ${which}`;
  const out: string[] = [];
  if (each !== null && sittings !== null) {
    out.push(`${better}: ${numberText(each)} grafts each way, half and half in each of at least ${sittings} sittings.`);
    if (!reachable)
      out.push(`At your ${numberText(Math.round(pace.grafts))} grafts a year that is over 3 years: not in reach.`);
  } else {
    const takes = (2 * batchesEach) / pace.batches;
    out.push(
      `${better} by ${keyNouns[key]}: ${countText(batchesEach, 'batch', 'batches')} each, never under ${floor} however large.`,
    );
    if (!reachable)
      out.push(`At your ${trim(pace.batches)} a year that is over ${Math.floor(takes)} years: not in reach.`);
  }
  if (!reachable) {
    out.push(
      smallest === null
        ? 'No difference up to 40 points is in reach.'
        : `In reach is a difference of ${Math.round(smallest * 100)} points.`,
    );
  }
  return out.join(' ');
}

const trim = (figure: number): string => String(Math.round(figure * 10) / 10);
