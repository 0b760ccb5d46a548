import type { Interval } from './wilson.ts';

/** `better`: A above B. `alike`: close enough not to matter. `unclear`: it can't be told, not that there is nothing. */
export type Verdict = 'better' | 'worse' | 'alike' | 'unclear';

/** A difference inside ± 10 points is taken as none that matters (house default). */
const alike = 0.1;
const level = 0.05;

/**
 * What may be said of a difference A - B.
 *
 * @param interval limits of the difference, null where there are none
 * @param pHolm p adjusted for all comparisons of the run
 * @param apart false where A and B never met in one level of some other recorded fact: then nothing is `better`, as it
 *   may be that fact's doing
 */
export function verdict(interval: Interval | null, pHolm: number | null, apart: boolean): Verdict {
  if (!interval) return 'unclear';
  if (excludesNone(interval)) {
    if (!apart || pHolm === null || pHolm >= level) return 'unclear';
    return interval.low > 0 ? 'better' : 'worse';
  }
  return interval.low >= -alike && interval.high <= alike ? 'alike' : 'unclear';
}

/** The whole interval lies on one side of no difference. */
export function excludesNone({ low, high }: Interval): boolean {
  return low > 0 || high < 0;
}
