import type { Day } from '#grammar/statement.ts';
import { dayAt } from '#server/workspace/today.ts';

/** Today in a zone by this machine's clock. */
export const dayInZone = (zone: string | undefined): Day => dayAt(Date.now(), zone);

/** Now, in milliseconds: for what says when it was made. */
export const moment = (): number => Date.now();
