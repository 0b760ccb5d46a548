import type { Day } from '#grammar/statement.ts';
import { type Batch, type Fact, fact, livingOn } from './model.ts';
import type { Nursery } from './nursery.ts';

/** Grafts of one batch that go the same way; without numbers the whole batch. */
export interface Track {
  numbers: readonly number[] | undefined;
}

const share = (percent: number): Fact => fact('share', `${percent}%`);
export const causes = ['dried', 'rotted', 'moved', 'broken', 'rejected', 'pest', 'unknown', ''];

/** Some of the track are written off; the last one stays. */
export function lose(nursery: Nursery, batch: Batch, track: Track, day: Day, most = 3): void {
  const { draw } = nursery;
  const cause = draw.pick(causes);
  const facts = cause === '' ? [] : [fact('cause', cause)];
  if (!track.numbers) {
    if (batch.size < 12 || batch.undivided !== undefined) return;
    batch.undivided = day;
    nursery.work('fail', batch, day, [fact('count', `x${draw.int(1, 3)}`), ...facts]);
    return;
  }
  const count = Math.min(draw.int(1, most), track.numbers.length - 1);
  if (count < 1) return;
  const at = draw.int(0, track.numbers.length - count);
  const gone = track.numbers.slice(at, at + count);
  nursery.work('fail', batch, day, facts, gone);
  for (const number of gone) batch.lost.set(number, day);
  track.numbers = track.numbers.filter((number) => !gone.includes(number));
}

/** How far a wrap stands open after a day's visit. */
interface Stand {
  readonly day: Day;
  /** False before the first step, and after the wrap was closed again. */
  readonly open: boolean;
  readonly percent: number;
  /** The day of the first step, from which the seventy days of a stall are counted. */
  readonly first: Day;
}

/**
 * The opening, as the `open-step` and `open-every` lines of `practice.graft` have it, from the first step until the bud is free: 5 to 10 points every 10 to 14 days, and
 * what comes between. Returns the day the last of them is free.
 */
export function openUntilFree(nursery: Nursery, batch: Batch, track: Track, firstStep: Day, before = 0): Day {
  const { draw } = nursery;
  let at = step(nursery, batch, track, { day: firstStep, percent: before, first: firstStep, open: false }, firstStep);
  let last = at.day;
  for (let left = draw.int(0, 5); left > 0; left--) {
    const event = draw.int(0, 19);
    if (event === 0) lose(nursery, batch, track, at.day + draw.int(1, 9));
    if (event === 1) nursery.work('check', batch, at.day + draw.int(1, 9), [fact('loose')], track.numbers);
    if (event <= 4) nursery.look(batch, at.day + draw.int(1, 9), track.numbers);
    if ((event === 5 || event === 6) && at.percent < 70) {
      at = air(nursery, batch, track, at);
      continue;
    }
    if (event === 7 || event === 8) {
      const some = part(nursery, track);
      const free = dryAndOn(nursery, batch, some, at);
      last = Math.max(last, free);
      if (some === track) return last;
    }
    const day = at.day + draw.int(10, 14);
    if (day > at.first + 69 || at.percent > 85) break;
    at = step(nursery, batch, track, at, day);
  }
  // A stall is one only where the next step would fall behind the seventieth day.
  const late = at.day >= at.first + 55 && at.day < at.first + 70 && at.percent < 85;
  if (late && draw.chance(30)) return Math.max(last, stall(nursery, batch, track, at));
  const free = Math.max(at.day + 1, Math.min(at.day + draw.int(2, 14), at.first + 70));
  nursery.work('free', batch, free, [], track.numbers);
  return Math.max(last, free);
}

function step(nursery: Nursery, batch: Batch, track: Track, from: Stand, day: Day): Stand {
  const percent = from.percent + nursery.draw.int(5, 10);
  return opened(nursery, batch, track, from, { day, percent, airing: false });
}

function opened(
  nursery: Nursery,
  batch: Batch,
  track: Track,
  from: Stand,
  { day, percent, airing }: { readonly day: Day; readonly percent: number; readonly airing: boolean },
): Stand {
  const line = nursery.work('open', batch, day, [share(percent)], track.numbers);
  line.step = { before: from.percent, since: from.open ? from.day : undefined, airing };
  return { ...from, day, percent, open: true };
}

/** Mould or water seen: aired within three days, as wide as it needs, and looked at again. */
function air(nursery: Nursery, batch: Batch, track: Track, from: Stand): Stand {
  const { draw } = nursery;
  const seen = from.day + draw.int(1, 8);
  nursery.work('check', batch, seen, [fact(draw.pick(['mould', 'wet']))], track.numbers);
  const day = seen + draw.int(0, 3);
  const percent = from.percent + draw.int(5, 20);
  const at = opened(nursery, batch, track, from, { day, percent, airing: true });
  if (draw.chance(30)) nursery.work('treat', batch, day, [fact('text', '"as the label says"')], track.numbers);
  nursery.look(batch, Math.max(day + 1, seen + draw.int(3, 7)), track.numbers);
  return at;
}

/** Found dry: covered again within two days, looked at, and begun anew once plump. */
function dryAndOn(nursery: Nursery, batch: Batch, track: Track, from: Stand): Day {
  const { draw } = nursery;
  const seen = from.day + draw.int(1, 8);
  nursery.work('check', batch, seen, [fact('dry')], track.numbers);
  const covered = seen + draw.int(0, 2);
  nursery.work('rewrap', batch, covered, draw.chance(30) ? [fact('film', 'film 38mm')] : [], track.numbers);
  const plump = Math.max(covered + 1, seen + draw.int(3, 7));
  nursery.work('check', batch, plump, [fact(draw.pick(['plump', 'green']))], track.numbers);
  const due = Math.max(from.day + 10, covered + 10, plump);
  return openUntilFree(nursery, batch, track, due + draw.int(0, 4));
}

/** Seventy days open and not free: steps stop, green ones go on after a look. */
function stall(nursery: Nursery, batch: Batch, track: Track, from: Stand): Day {
  const { draw } = nursery;
  const judged = from.first + 70 + draw.int(0, 14);
  nursery.work('check', batch, judged, [fact('green')], track.numbers);
  const again = step(nursery, batch, track, from, Math.max(judged + draw.int(0, 14), from.day + 10));
  const free = again.day + draw.int(2, 10);
  nursery.work('free', batch, free, [], track.numbers);
  return free;
}

/** Some numbers of a track on a way of their own from now on, or the whole track where it can't be parted. */
export function part(nursery: Nursery, track: Track): Track {
  const { draw } = nursery;
  const { numbers } = track;
  if (!numbers || numbers.length < 4 || draw.chance(30)) return track;
  const count = draw.int(1, Math.floor(numbers.length / 2));
  const from = draw.int(0, numbers.length - count);
  const some = numbers.slice(from, from + count);
  track.numbers = numbers.filter((number) => !some.includes(number));
  return { numbers: some };
}

/** All of a batch that live, as one track. */
export const wholeOf = (batch: Batch, day: Day): Track => ({
  numbers: batch.counted ? undefined : livingOn(batch, day),
});
