import type { CheckEnv } from '../checks/case.ts';

/** What work asks beside a history: the same as checks do. */
export type WorkEnv = CheckEnv;
