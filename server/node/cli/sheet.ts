import { benchSheet } from '#server/report/bench-sheet.ts';
import { openLog } from './open-log.ts';
import type { Asked } from './options.ts';
import { writeResult } from './write-result.ts';

/** Today's bench sheet and the week, as one page to print. */
export async function sheet(asked: Asked): Promise<number> {
  const { answers } = await openLog(asked, ['text']);
  const out = writeResult(asked.values.out, benchSheet(answers), 'sheet.html');
  if (out !== '-') process.stderr.write(`Written: ${out}. Open it in a browser and print it.\n`);
  return 0;
}
