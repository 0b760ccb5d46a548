import type { Day } from '#grammar/statement.ts';
import { isoDay } from '#grammar/values/date.ts';
import { fact } from './model.ts';
import type { Nursery } from './nursery.ts';

/**
 * In a tenth of the seasons a station stands by. Its days are all alike, so that what is learned of a place from one reading
 * holds for the others: no frost, no heat.
 */
export function weather(nursery: Nursery, horizon: Day): void {
  const { draw, season } = nursery;
  if (!draw.chance(10)) return;
  const start = Math.min(...season.batches.map((batch) => batch.first)) - 40;
  const rows = ['DATE,TMIN,TMAX'];
  for (let day = start; day <= horizon; day++) rows.push(`${isoDay(day)},30,240`);
  season.station = rows.join('\n');
  const yard = nursery.place('yard', false);
  nursery.declare('weather', '"station.csv"', [fact('in', `in ${yard.name}`)]);
}
