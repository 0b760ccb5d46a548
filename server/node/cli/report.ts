import { reportJson, seasonReport } from '#server/engine/season-report.ts';
import { seasonPage } from '#server/report/season-page.ts';
import { readHours } from './due-weeks.ts';
import { openLog } from './open-log.ts';
import type { Asked } from './options.ts';
import { writeResult } from './write-result.ts';

/** The season report, as one page; its figures as JSON. */
export async function report(asked: Asked): Promise<number> {
  const hours = asked.values.hours === undefined ? undefined : readHours(asked.values.hours);
  const { answers, json, print } = await openLog(asked);
  const found = seasonReport(answers, hours);
  if (json) {
    print(`${JSON.stringify(reportJson(found), null, 2)}\n`);
    return 0;
  }
  const out = writeResult(asked.values.out, seasonPage(found), 'report.html');
  if (out !== '-') process.stderr.write(`Written: ${out}. Open it in a browser; it prints, too.\n`);
  return 0;
}
