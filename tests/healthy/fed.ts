import { judge } from './growing.ts';
import { type Batch, fact } from './model.ts';
import type { Nursery } from './nursery.ts';
import { lose, wholeOf } from './opening.ts';

/** Buds: looked at, judged after weeks, bare soon, the stock cut back whole late in winter. */
export function bud(nursery: Nursery, batch: Batch): void {
  const { draw, calendar } = nursery;
  const [soon, late] = batch.method === 'chip-bud' ? [21, 42] : [14, 28];
  const take = batch.last + draw.int(soon, late);
  nursery.looks(batch, batch.last, take, [5, 20]);
  if (draw.chance(20)) lose(nursery, batch, wholeOf(batch, batch.last), take - draw.int(1, 5));
  judge(nursery, batch, take);
  if (draw.chance(80)) {
    batch.untie = take + draw.int(0, 20);
    nursery.work('untie', batch, batch.untie);
  }
  const headback = draw.int(calendar.next('feb-01', take), calendar.next('mar-31', take));
  if (headback <= take + 21) return;
  nursery.work('headback', batch, headback, [fact('share', '100%')]);
  nursery.work('check', batch, headback + draw.int(14, 28), [fact('suckers')]);
  if (draw.chance(50)) nursery.work('swell', batch, headback + draw.int(30, 50));
}

/** Approach and thread grafts keep their roots: looked at in growth, severed in stages after a season, judged. */
export function feed(nursery: Nursery, batch: Batch): void {
  const { draw, calendar } = nursery;
  const grown = calendar.next('oct-01', batch.last + 60);
  const sever = grown + draw.int(0, 300);
  nursery.looks(batch, batch.last, sever);
  let day = sever;
  if (draw.chance(60)) {
    const [half, more] = draw.pick([
      ['1/3', '2/3'],
      ['50%', '75%'],
    ]);
    nursery.work('sever', batch, day, [fact('share', half)]);
    day += draw.int(20, 45);
    if (draw.chance(40)) {
      nursery.work('sever', batch, day, [fact('share', more)]);
      day += draw.int(20, 45);
    }
  }
  nursery.work('sever', batch, day);
  const take = day + draw.int(1, 40);
  judge(nursery, batch, take);
  if (batch.method === 'approach' && draw.chance(80)) {
    batch.untie = draw.int(day, take + 60);
    nursery.work('untie', batch, batch.untie);
  }
}
