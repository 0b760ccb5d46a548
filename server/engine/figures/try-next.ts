import { roundedUp, trialsEach } from '#server/statistics/trial.ts';
import type { Comparison } from './compare.ts';
import { type GroupKey, type Level, sharesSitting } from './levels.ts';
import type { PlanResult } from './plan.ts';
import { blurred } from './tied-facts.ts';

/** What to try next, so that the record can tell more. */
export type NextTry =
  | { readonly kind: 'apart'; readonly key: GroupKey; readonly a: Level; readonly b: Level; readonly each: number }
  | { readonly kind: 'more'; readonly key: GroupKey; readonly a: Level; readonly b: Level; readonly each: number }
  | { readonly kind: 'pair'; readonly pair: string; readonly judged: number };

const most = 3;
/** A difference worth a trial, and a pair too little judged to plan from (house defaults). */
const points = 0.2;
const fewJudged = 20;

/** Their ways are inside or outside of what practice calls good, and nobody is sent outside. */
const ofPractice: ReadonlySet<GroupKey> = new Set<GroupKey>(['depth', 'store', 'long', 'whorls']);

/**
 * At most three, in this order: ways that never were apart from another fact and could be; ways that can't be told yet,
 * the least sure first; pairs under 20 judged that a plan rests on.
 */
export function tryNext(comparisons: readonly Comparison[], plans: readonly PlanResult[] = []): NextTry[] {
  // grafts without a label are no way of their own to try
  const open = comparisons.filter(
    ({ key, a, b, word }) =>
      word === 'unclear' && sharesSitting(key) && !ofPractice.has(key) && a !== null && b !== null,
  );
  const never = open.filter(({ key, kind, tied }) => blurred(key, kind, tied));
  const rest = open.filter((one) => !never.includes(one) && one.low !== null).sort((a, b) => width(b) - width(a));
  const ways = (kind: 'apart' | 'more') => (comparison: Comparison) => {
    const { key, a, b, aTaken, aJudged, bTaken, bJudged } = comparison;
    const rate = Math.min(0.95, Math.max(0.05, (aTaken + bTaken) / (aJudged + bJudged)));
    return { kind, key, a, b, each: roundedUp(trialsEach(rate, points)) };
  };
  const thin = plans.flatMap(({ like, plan }): NextTry[] =>
    like !== null && plan.because.judged < fewJudged ? [{ kind: 'pair', pair: like, judged: plan.because.judged }] : [],
  );
  return [...never.map(ways('apart')), ...rest.map(ways('more')), ...thin].slice(0, most);
}

const width = ({ low, high }: Comparison): number => (high ?? 1) - (low ?? -1);
