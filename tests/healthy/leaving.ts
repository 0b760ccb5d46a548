import type { Day } from '#grammar/statement.ts';
import type { Calendar } from './calendar.ts';
import { type Batch, fact } from './model.ts';
import type { Nursery } from './nursery.ts';

const conifer = (batch: Batch): boolean => !batch.pair || batch.pair.group === 'needle' || batch.pair.group === 'scale';

/** The first day on which a taken graft may leave its cover: the last frost after grafting is past. */
export function lastSafe(calendar: Calendar, batch: Batch, take: Day): Day {
  if (!conifer(batch) || calendar.tropical) return take;
  return Math.max(take, calendar.next(calendar.lastFrost, batch.first) + 1);
}

/** Out of its shelter for good, by carrying the pots, the tree, or the roof. */
export function leaves(nursery: Nursery, batch: Batch, from: Day): void {
  const { draw } = nursery;
  const day = from + draw.int(0, 40);
  const { place } = batch;
  if (place.own && draw.chance(40)) {
    nursery.workAt('uncover', place.name, day, [], batch);
    return;
  }
  const to = [fact('to', `to ${nursery.place('yard', false).name}`)];
  if (batch.potted) nursery.work('move', batch, day, to);
  else for (const tree of batch.trees) nursery.workAt('move', tree, day, to, batch);
}
