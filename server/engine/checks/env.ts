import type { Day } from '#grammar/statement.ts';
import { acceptsOf } from '../accept.ts';
import type { Log } from '../log.ts';
import { lotsOf } from '../lots.ts';
import { pairsOf } from '../pair.ts';
import { practiceOf } from '../practice.ts';
import type { CheckEnv, CheckWeather } from './case.ts';
import { placeLinesOf } from './place-lines.ts';

/** What checks ask of a log on a day. */
export function checkEnv(log: Log, day: Day, weather?: CheckWeather): CheckEnv {
  return {
    log,
    day,
    practice: practiceOf(log.all('practice')),
    pairs: pairsOf(log.all('pair')),
    accepts: acceptsOf(log.all('accept')),
    lots: lotsOf(log, day),
    places: placeLinesOf(log, day),
    ...(weather ? { weather } : {}),
  };
}
