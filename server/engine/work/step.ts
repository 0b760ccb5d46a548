import type { Day } from '#grammar/statement.ts';
import { type LimitKey, shippedPractice } from '../practice.ts';
import type { PracticeRow } from '../practice-rows.ts';
import { asAnother, onDay } from '../practice-subject.ts';
import type { Case } from './case.ts';

export interface Ends {
  readonly low: number;
  readonly high: number;
  /** Absent where practice has no such rule for these grafts. */
  readonly row?: PracticeRow;
}

/** Both ends of a limit for due work: an end that the closest line leaves open keeps the shipped figure. */
export function ends({ env, subject }: Case, key: LimitKey, on: Day): Ends {
  const own = env.practice.limits(key, onDay(subject, on))[0];
  const fallback = shippedPractice().limits(key, asAnother(onDay(subject, on), { event: () => undefined }))[0];
  const low = own?.low ?? fallback?.low ?? own?.high ?? 0;
  return { low, high: Math.max(low, own?.high ?? fallback?.high ?? low), ...(own ? { row: own.row } : {}) };
}

/** How far it is after the next step, from both ends of the practice line. */
export function nextShare(
  grafts: Case,
  key: 'open-step' | 'headback-step',
  now: number,
  on: Day,
): { readonly low: number; readonly high: number } {
  const { low, high } = ends(grafts, key, on);
  // thirds as a hand writes them: 1/3 and 1/3 more is 2/3
  const after = (step: number) => Math.min(1, Math.round((now + step) * 1e6) / 1e6);
  return { low: after(low), high: after(high) };
}

/** A share as a hand writes it: thirds as fractions, all else in per cent. */
export function shareWritten(share: number): string {
  const thirds = Math.round(share * 3);
  return Math.abs(share - thirds / 3) < 0.01 && thirds < 3 && thirds > 0
    ? `${thirds}/3`
    : `${Math.round(share * 100)}%`;
}
