import { share } from '#server/statistics/share.ts';
import type { BatchFigures, BatchHistory, Cohort } from '../model.ts';
import { type Counts, countsOf } from '../tally.ts';

/**
 * A batch's own figures on the day its history was read for. Early takes count as taken and are
 * told apart; what was lost after a take counts as failed and is told apart, too.
 *
 * @param earliest days from grafting from which a take is told for sure, by the practice line `earliest take after graft`
 * @returns shares 0..1, `null` where nothing has been judged
 */
export function batchFigures(
  history: Pick<BatchHistory, 'cohorts' | 'tallies'>,
  earliest: (cohort: Cohort) => number,
): BatchFigures {
  return figuresOf(countsOf(history.cohorts, history.tallies, earliest));
}

/** The same from counts that are known already. */
export function figuresOf({ grafted, taken, failed, early, late, causes }: Counts): BatchFigures {
  const { open, rate, low, high, worst, best, outer } = share(grafted, taken, failed);
  return { grafted, taken, failed, open, early, late, rate, low, high, worst, best, outer, causes };
}
