import { statsJson, statsOf } from '#server/engine/figures/stats.ts';
import { statsPage } from '#server/report/stats-page.ts';
import { readKeys } from './keys.ts';
import { sayLeftOut } from './left-out.ts';
import { openLog } from './open-log.ts';
import type { Asked } from './options.ts';

/** Take rates by one or several keys, ways compared, losses over time, and what to try next. */
export async function stats(asked: Asked): Promise<number> {
  const by = readKeys('by', asked.values.by ?? 'batch');
  const compare = asked.values.compare === undefined ? [] : readKeys('compare', asked.values.compare);
  const { answers, day, json, print, printPage } = await openLog(asked);
  const found = statsOf(answers.record(), { by, compare }, answers.env);
  if (json) print(`${JSON.stringify(statsJson(found), null, 2)}\n`);
  else {
    printPage(statsPage(found, { by, compare }, day));
    sayLeftOut(answers);
  }
  return 0;
}
