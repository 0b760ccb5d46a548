import type { Day } from '#grammar/statement.ts';
import { type Batch, fact } from './model.ts';
import type { Nursery } from './nursery.ts';
import { isSide } from './plants.ts';

/** After the take of a graft set on a stock: tie watched, stock headed back, unbound, sold. */
export function after(nursery: Nursery, batch: Batch): void {
  const { draw } = nursery;
  const { take = 0, free = 0 } = batch;
  if (isSide(batch.method)) headback(nursery, batch, take);
  else if (draw.chance(40)) nursery.work('check', batch, take + draw.int(1, 40), [fact('suckers')]);
  if (draw.chance(30)) nursery.work('feed', batch, take + draw.int(5, 50), [fact('text', '"slow, as the bag says"')]);
  const broadleaf = batch.pair?.group === 'broadleaf';
  const from = broadleaf ? free + 42 : seasonGrown(nursery, batch);
  if (draw.chance(80)) {
    batch.untie = Math.max(from, take + 1) + draw.pick([0, 1, 30, 120, 250]);
    nursery.work('untie', batch, batch.untie);
  }
  const bites = take + draw.int(3, 30);
  if (bites + 14 < (batch.untie ?? bites + 15) && draw.chance(25)) biting(nursery, batch, bites);
  if (draw.chance(20)) sell(nursery, batch, Math.max(take + 60, batch.untie ?? 0) + draw.int(1, 60));
  else if (draw.chance(30)) nursery.work('check', batch, take + draw.int(365, 395), [fact('green')]);
}

/** 1 October of the year it grew, which is that of its swelling; from August on the next one is on the safe side. */
function seasonGrown({ calendar }: Nursery, { swell = 0 }: Batch): Day {
  const late = calendar.month(swell) >= 8;
  return calendar.next('oct-01', late ? calendar.next('jan-15', swell) : swell);
}

function biting(nursery: Nursery, batch: Batch, day: Day): void {
  nursery.work('check', batch, day, [fact('biting')]);
  const tie = nursery.draw.chance(40) ? [fact('tie', 'tie raffia')] : [];
  nursery.work('retie', batch, day + nursery.draw.int(0, 14), tie);
}

/** Conifers by a half at most and 42 days apart, the others whole or in two. */
function headback(nursery: Nursery, batch: Batch, take: Day): void {
  const { draw } = nursery;
  const group = batch.pair?.group;
  const whole = group === 'shedding' || group === 'broadleaf';
  const stages = whole
    ? draw.pick([['100%'], ['1/2', '100%'], ['60%', '100%']])
    : draw.pick([
        ['1/3', '2/3', '100%'],
        ['50%', '100%'],
        ['40%', '80%', '100%'],
        ['1/4', '1/2', '3/4', '100%'],
      ]);
  let day = take + draw.pick([0, 10, 60, 200]);
  const last = draw.int(1, stages.length);
  for (const share of stages.slice(0, last)) {
    nursery.work('headback', batch, day, [fact('share', share)]);
    day += draw.pick([42, 56, 100, 182]);
  }
}

function sell(nursery: Nursery, batch: Batch, day: Day): void {
  const { season, draw } = nursery;
  const planned = season.lines.filter((line) => line.batch === batch && (line.day ?? 0) >= day);
  season.lines = season.lines.filter((line) => !planned.includes(line));
  batch.sold = day;
  nursery.work('sell', batch, day, [fact('to', `to ${draw.pick(['"garden centre"', 'Hollow-Farm', '"a friend"'])}`)]);
  if (draw.chance(30)) nursery.work('check', batch, day + draw.int(20, 200), [fact('text', '"stands well there"')]);
}

/** Nobody falls silent: a line in every year for what is taken and still bound, until it is untied, sold, or the log ends. */
export function keepUp(nursery: Nursery, batch: Batch, horizon: Day): void {
  const { season, draw } = nursery;
  const { take = 0 } = batch;
  const end = batch.untie ?? batch.sold ?? horizon;
  const words = season.lines.filter((line) => line.batch === batch && (line.day ?? 0) >= take);
  const days = [...words.map((line) => line.day ?? 0).filter((day) => day < end), end].sort((a, b) => a - b);
  days.forEach((next, index) => {
    for (let day = (days[index - 1] ?? next) + draw.int(120, 250); day < next; day += draw.int(120, 250))
      nursery.look(batch, day);
  });
}
