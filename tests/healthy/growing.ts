import type { Day } from '#grammar/statement.ts';
import { lastSafe, leaves } from './leaving.ts';
import { type Batch, fact, type Line } from './model.ts';
import type { Nursery } from './nursery.ts';
import { causes, lose, openUntilFree, part, type Track, wholeOf } from './opening.ts';

/** From the bench to the take of a graft that has no roots of its own: healing, swelling, opening, free, judged. */
export function grow(nursery: Nursery, batch: Batch): void {
  const { draw, calendar } = nursery;
  const swell = swellDays(nursery, batch);
  if (swell.mustLook || draw.chance(60)) heal(nursery, batch, swell.day);
  const all = wholeOf(batch, batch.last);
  if (draw.chance(15)) lose(nursery, batch, all, batch.last + draw.int(5, Math.max(6, swell.day - batch.last - 6)));
  const early =
    draw.chance(10) && opens(batch) && swell.day - batch.last > 45 ? airEarly(nursery, batch, swell.day) : 0;

  const laggards = early > 0 ? all : part(nursery, all);
  batch.swell = swell.day;
  nursery.work('swell', batch, swell.day, draw.chance(10) ? [fact('bbch', 'bbch 03')] : [], all.numbers);
  let judged = 0;
  let free = until(nursery, batch, all, swell.day, early);
  if (laggards !== all) {
    const later = swell.day + draw.int(2, 30);
    if (later <= swell.by && draw.chance(75)) {
      batch.swell = later;
      nursery.work('swell', batch, later, [], laggards.numbers);
      free = Math.max(free, until(nursery, batch, laggards, later, 0));
    } else {
      judged = swell.day + draw.int(42, 70);
      writeOff(nursery, batch, laggards, judged);
    }
  }
  batch.free = free;

  const take = Math.max(free + draw.int(28, 60), batch.last + 42, judged + 1);
  nursery.looks(batch, free, take - 4);
  winterCover(nursery, batch, take);
  judge(nursery, batch, take);
  if (draw.chance(50)) leaves(nursery, batch, lastSafe(calendar, batch, take));
}

const opens = (batch: Batch): boolean => batch.wrap === 'film' || batch.wrap === 'bag';

interface Swelling {
  readonly day: Day;
  /** The last day of the window `practice.graft` gives it. */
  readonly by: Day;
  /** No window of swelling excuses a log in which nobody writes. */
  readonly mustLook: boolean;
}

/** When buds are watched for: the `work watch` lines of `practice.graft`. */
function swellDays({ draw, calendar }: Nursery, { pair, place, first, last }: Batch): Swelling {
  const evergreen = pair?.group === 'needle' || pair?.group === 'scale';
  if (place.kind === 'tent') return { day: last + draw.int(35, 65), by: first + 75, mustLook: !pair };
  if (calendar.tropical || !pair) return { day: last + draw.int(25, 60), by: last + 75, mustLook: true };
  const month = calendar.month(last);
  const spring = calendar.next('mar-01', last);
  if (month >= 9 || month <= 2) {
    const by = calendar.next('may-15', last);
    return { day: draw.int(Math.max(spring, last + 21), by), by, mustLook: false };
  }
  const by = Math.min(first + 60, calendar.next('sep-30', first));
  if (month >= 7 && (by < last + 21 || draw.chance(25))) {
    const next = calendar.next('may-15', spring);
    return { day: draw.int(spring, next), by: next, mustLook: true };
  }
  return { day: draw.int(last + 21, Math.max(by, last + 21)), by, mustLook: !evergreen };
}

/** The tender weeks every week or two, then monthly. */
function heal(nursery: Nursery, batch: Batch, before: Day): void {
  const { draw } = nursery;
  let day = batch.last;
  for (;;) {
    day += day < batch.last + 30 ? draw.int(7, 14) : draw.int(25, 42);
    if (day >= before) return;
    nursery.look(batch, day);
  }
}

/** Mould under a wrap that was not to be opened yet: aired all the same. Returns the share it stands open. */
function airEarly(nursery: Nursery, batch: Batch, swell: Day): number {
  const { draw } = nursery;
  const seen = draw.int(batch.last + 10, swell - 30);
  const percent = draw.int(5, 15);
  nursery.work('check', batch, seen, [fact(draw.pick(['mould', 'wet']))]);
  nursery.work('open', batch, seen + draw.int(0, 3), [fact('share', `${percent}%`)]);
  nursery.work('check', batch, seen + draw.int(4, 7), [fact('plump')]);
  return percent;
}

function until(nursery: Nursery, batch: Batch, track: Track, swell: Day, before: number): Day {
  const { draw } = nursery;
  if (opens(batch)) return openUntilFree(nursery, batch, track, swell + draw.int(0, 7), before);
  const free = swell + draw.int(20, 50);
  if (draw.chance(50)) nursery.look(batch, swell + draw.int(5, 15), track.numbers);
  nursery.work('free', batch, free, [], track.numbers);
  return free;
}

function writeOff(nursery: Nursery, batch: Batch, track: Track, day: Day): void {
  const numbers = track.numbers ?? [];
  nursery.work('fail', batch, day, [fact('cause', nursery.draw.pick(['dried', 'rejected', 'unknown']))], numbers);
  for (const number of numbers) batch.lost.set(number, day);
}

/** Grafts of spring and summer that have not taken by September are covered by 1 October. */
function winterCover(nursery: Nursery, batch: Batch, take: Day): void {
  const { draw, calendar } = nursery;
  const { pair, place } = batch;
  const asked = !pair || pair.group === 'needle' || pair.group === 'scale';
  if (place.kind !== 'lath' || !asked || calendar.tropical) return;
  const from = calendar.next('sep-01', batch.last);
  if (take < from) return;
  const day = draw.int(Math.max(from - 31, batch.last + 1), calendar.next('oct-01', from));
  if (!batch.potted) {
    for (const tree of batch.trees) nursery.workAt('cover', tree, day, [fact('frost-free')], batch);
  } else if (draw.chance(50)) nursery.work('cover', batch, day, [fact('frost-free')]);
  else nursery.work('move', batch, day, [fact('to', `to ${nursery.place('frame', false).name}`)]);
}

/** All judged on one day: taken, and the rest lost. */
export function judge(nursery: Nursery, batch: Batch, day: Day): void {
  const { draw } = nursery;
  batch.take = day;
  const left = wholeOf(batch, day);
  const failed = (facts: Line['facts']): Line['facts'] => {
    const cause = draw.pick(causes);
    return cause === '' ? facts : [...facts, fact('cause', cause)];
  };
  const way = draw.int(0, 3);
  if (batch.counted || way === 0) {
    const most = batch.counted ? batch.size - 15 : (left.numbers?.length ?? 0);
    const taken = draw.int(Math.ceil(most / 2), most);
    if (taken < 1 || (batch.counted && batch.size < 25)) return void nursery.work('take', batch, day);
    nursery.work('take', batch, day, [fact('count', `x${taken}`)], left.numbers);
    batch.undivided = day;
    nursery.work('fail', batch, day, failed([fact('rest')]));
    return;
  }
  if (way === 1 && left.numbers && left.numbers.length > 2) {
    const gone = left.numbers.slice(0, draw.int(1, left.numbers.length - 1));
    const taken = left.numbers.slice(gone.length);
    nursery.work('take', batch, day, [], taken);
    nursery.work('fail', batch, day, failed([]), gone);
    for (const number of gone) batch.lost.set(number, day);
    return;
  }
  nursery.work('take', batch, day);
}
