import { importSheet } from '#server/import/import-sheet.ts';
import type { Imported, ImportOptions } from '#server/import/model.ts';
import { dayOf } from '../support/log.ts';

export const on = '2027-11-25';

/** The import of a sheet that asks nothing. */
export function imported(csv: string, options: Partial<ImportOptions> & { on?: string } = {}): Imported {
  const result = importSheet(csv, { file: 'grafts.csv', day: dayOf(options.on ?? on), ...options });
  if ('ask' in result) throw new Error(result.ask);
  return result.done;
}

/** The sentence a sheet asks with. */
export function askedBy(csv: string, options: Partial<ImportOptions> = {}): string {
  const result = importSheet(csv, { file: 'grafts.csv', day: dayOf(on), ...options });
  return 'ask' in result ? result.ask : '';
}

/** The lines of work of a log, without comments and declarations. */
export const workOf = ({ log }: Imported): string[] =>
  log
    .split('\n')
    .slice(1)
    .filter((line) => /^(\d|graft|take|fail|swell|free|untie|sever|sell)/.test(line));
