import type { CheckEnv } from '../checks/case.ts';

/** What figures ask beside the histories. */
export type FiguresEnv = Pick<CheckEnv, 'log' | 'practice' | 'lots' | 'day'>;
