import type { Day } from '#grammar/statement.ts';
import type { CheckEnv } from '../checks/case.ts';
import { placeLinesOf } from '../checks/place-lines.ts';
import type { Log } from '../log.ts';
import { lotsOf } from '../lots.ts';
import type { Practice } from '../practice.ts';

/** What work asks beside a history. `places` and `lots` are read once and serve every batch. */
export type WorkEnv = Pick<CheckEnv, 'log' | 'practice' | 'day' | 'lots' | 'places' | 'weather'>;

export function workEnv(log: Log, practice: Practice, day: Day, weather?: CheckEnv['weather']): WorkEnv {
  return {
    log,
    practice,
    day,
    lots: lotsOf(log, day),
    places: placeLinesOf(log, day),
    ...(weather ? { weather } : {}),
  };
}
