import { wilson } from '#server/statistics/wilson.ts';
import type { BatchFigures, BatchHistory, Cohort } from '../model.ts';
import { countsOf } from '../tally.ts';

/**
 * A batch's own figures on the day its history was read for (statistics, section 1). Early takes count as taken and are
 * told apart; what was lost after a take counts as failed and is told apart, too.
 *
 * @param earliest days from grafting from which a take is told for sure, by the practice line `earliest take after graft`
 * @returns shares 0..1, `null` where nothing has been judged
 */
export function batchFigures(
  history: Pick<BatchHistory, 'cohorts' | 'tallies'>,
  earliest: (cohort: Cohort) => number,
): BatchFigures {
  const { grafted, taken, failed, early, late, causes } = countsOf(history.cohorts, history.tallies, earliest);
  const judged = taken + failed;
  const open = grafted - judged;
  const interval = wilson(taken, judged);
  const lowest = wilson(taken, grafted);
  const highest = wilson(taken + open, grafted);
  return {
    grafted,
    taken,
    failed,
    open,
    early,
    late,
    rate: judged > 0 ? taken / judged : null,
    low: interval?.low ?? null,
    high: interval?.high ?? null,
    worst: grafted > 0 ? taken / grafted : null,
    best: grafted > 0 ? (taken + open) / grafted : null,
    outer: lowest && highest ? { low: lowest.low, high: highest.high } : null,
    causes,
  };
}
