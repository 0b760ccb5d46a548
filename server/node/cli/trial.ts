import { type GroupKey, groupKeys } from '#server/engine/figures/levels.ts';
import { type TrialAsked, trialOf } from '#server/engine/figures/trial.ts';
import { inert } from '#server/report/text-page.ts';
import { trialPage } from '#server/report/trial-page.ts';
import { readWhole } from './figure-options.ts';
import { openLog } from './open-log.ts';
import { type Asked, UsageError } from './options.ts';

/** How large a field trial must be, and a fair order at the bench. */
export async function trial(asked: Asked): Promise<number> {
  const { values } = asked;
  const ways = waysOf(values.ways);
  const points =
    values.points === undefined ? 20 : readWhole('points', values.points, { from: 1, to: 40, example: 20 });
  const seed =
    values.seed === undefined
      ? undefined
      : readWhole('seed', values.seed, { from: 0, to: 2_147_483_647, example: 202_810 });
  const { answers, day, json, print, printPage } = await openLog(asked);
  const ask: TrialAsked = { ...ways, points: points / 100, ...(seed === undefined ? {} : { seed }) };
  const found = trialOf(answers.record(), ask, answers.env);
  if (!('trial' in found)) throw new UsageError(inert(noTrial(ways, found.keys)));
  if (json) print(`${JSON.stringify(found.trial, null, 2)}\n`);
  else printPage(trialPage(found, day, answers.env));
  return 0;
}

/** `A,B`, with a key before them where it must be said: `hand:red,blue`. */
function waysOf(given: string | boolean | undefined): Pick<TrialAsked, 'ways' | 'key'> {
  const [, named, rest] = /^(?:(\w+):)?(.*)$/s.exec(String(given ?? '')) ?? [];
  const key = groupKeys.find((one) => one === named);
  const [a, b, ...more] = (key ? (rest ?? '') : String(given ?? '')).split(',').map((way) => way.trim());
  if (!a || !b || more.length > 0)
    throw new UsageError('--ways takes the two ways to try, with a comma between: --ways side-veneer,cleft.');
  if (a === b) throw new UsageError(`--ways takes two different ways; both are ${inert(a)}.`);
  return { ways: [a, b], ...(key ? { key } : {}) };
}

function noTrial({ ways: [a, b], key }: Pick<TrialAsked, 'ways' | 'key'>, fitting: readonly GroupKey[]): string {
  const [first] = fitting;
  if (first)
    return `${a} and ${b} are values of several keys, ${fitting.join(' and ')}: say which is meant, --ways ${first}:${a},${b}.`;
  const where = key ? `the key ${key}` : `one key (${groupKeys.join(', ')})`;
  return `${a} and ${b} aren’t two values of ${where} in this log.`;
}
