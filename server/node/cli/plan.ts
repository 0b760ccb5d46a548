import { planJson, planOf, usualConfidence } from '#server/engine/figures/plan.ts';
import { planPage } from '#server/report/plan-page.ts';
import { inert } from '#server/report/text-page.ts';
import { readHours } from './due-weeks.ts';
import { readConfidence, readWhole } from './figure-options.ts';
import { openLog } from './open-log.ts';
import { type Asked, UsageError } from './options.ts';

/** How many to graft to have so many taken, from the record, and what that needs. */
export async function plan(asked: Asked): Promise<number> {
  const { values } = asked;
  const takes = readWhole('takes', values.takes, { from: 1, to: 10_000, example: 50 });
  const confidence = values.confidence === undefined ? usualConfidence : readConfidence(values.confidence);
  const batches =
    values.batches === undefined ? 1 : readWhole('batches', values.batches, { from: 1, to: 100, example: 3 });
  const hours = values.hours === undefined ? undefined : readHours(values.hours);
  const like = typeof values.like === 'string' ? values.like : undefined;
  const { answers, day, json, print, printPage } = await openLog(asked);
  const ask = {
    takes,
    confidence,
    batches,
    ...(like === undefined ? {} : { like }),
    ...(hours === undefined ? {} : { hours }),
  };
  const found = planOf(answers.record(), ask, answers.env);
  if (!found)
    throw new UsageError(
      `Nothing grafted so far is called ${inert(like ?? '')}: --like takes a batch, or a pair as the log has it.`,
    );
  if (json) print(`${JSON.stringify(planJson(found), null, 2)}\n`);
  else printPage(planPage(found, day));
  return 0;
}
