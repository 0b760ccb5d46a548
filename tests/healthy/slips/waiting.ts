import type { Day } from '#grammar/statement.ts';
import type { Calendar } from '../calendar.ts';
import { type Line, setFact } from '../model.ts';
import { detachedMethods } from '../plants.ts';
import { forget, insert, lastNamed, type Planters, type Site, type Slip, someDay } from './slip.ts';

const film = { methods: detachedMethods, wraps: ['film', 'bag'], counted: true } as const;

/** Work left undone, signs without an answer, batches without a word, rooms too small: what today decides. */
export const waiting: Planters = {
  overdue: [
    {
      wish: film,
      plant: (site) => {
        const steps = site.season.lines.filter((line) => line.batch === site.batch && line.step && !line.step.airing);
        const day = (steps.length > 0 ? site.draw.pick(steps) : undefined)?.day;
        if (day === undefined) return undefined;
        // Seventy days after the first step, or the first since it was closed again, no step is due any more.
        const anew = done(site, 'rewrap').filter((closed) => closed < day);
        const first = Math.min(...done(site, 'open').filter((opened) => opened > Math.max(0, ...anew)));
        return first + 69 < day + 15 ? undefined : left(site, day, [15, Math.min(40, first + 69 - day)]);
      },
    },
    {
      wish: film,
      plant: (site) => {
        const { batch, season } = site;
        const { swell = 0 } = batch;
        season.lines = season.lines.filter(
          (line) => line.batch !== batch || line.verb !== 'open' || (line.day ?? 0) < swell,
        );
        return left(site, swell, [8, 40]);
      },
    },
    {
      wish: { ...film, groups: ['needle', 'scale'], told: true, months: [7, 8], places: ['lath'], own: true },
      plant: uncoveredInAutumn,
    },
  ],
  'mould-left': [
    {
      wish: { methods: detachedMethods, wraps: ['film', 'bag', 'wax'], places: ['frame', 'garage', 'tent'] },
      plant: (site) => {
        const { batch, draw } = site;
        const day = draw.int(batch.last + 1, (batch.swell ?? 0) - 1);
        // Work of the same day would be an answer.
        forget(site, Math.max(day - 1, batch.last));
        const line = insert(site, 'check', day, [draw.pick(['mould', 'wet'])]);
        return { line, today: day + draw.int(8, 20), severity: 'information' };
      },
    },
  ],
  'tie-biting': [
    {
      wish: { methods: detachedMethods },
      plant: (site) => {
        const { batch, draw } = site;
        const from = (batch.take ?? 0) + 1;
        const day = draw.int(from, Math.max(from, Math.min(batch.untie ?? from + 60, from + 60) - 1));
        forget(site, day - 1);
        return { line: insert(site, 'check', day, ['biting']), today: day + draw.int(15, 40) };
      },
    },
  ],
  silent: [
    {
      wish: { methods: detachedMethods, own: true, places: ['frame', 'garage', 'tent'] },
      plant: (site) => quiet(site, site.batch.free ?? 0, 60),
    },
    { wish: { methods: detachedMethods, own: true }, plant: (site) => quiet(site, site.batch.take ?? 0, 365) },
  ],
  'place-full': [
    {
      wish: { own: true },
      plant: (site) => {
        const { batch, draw } = site;
        const line = draw.pick(batch.grafts);
        const sizes = batch.grafts.map((graft) => sizeOf(graft, batch.size));
        const index = batch.grafts.indexOf(line);
        const before = sizes.slice(0, index).reduce((sum, size) => sum + size, 0);
        const most = before + (sizes[index] ?? 0) - 1;
        if (most < Math.max(1, before)) return undefined;
        setFact(batch.place.line, 'capacity', `capacity ${draw.int(Math.max(1, before), most)}`);
        return { line, today: someDay(site, line.day ?? 0) };
      },
    },
  ],
};

/** The days on which the batch saw such work. */
const done = ({ season, batch }: Site, verb: string): Day[] =>
  season.lines.filter((line) => line.batch === batch && line.verb === verb).map((line) => line.day ?? 0);

const sizeOf = ({ target }: Line, size: number): number =>
  typeof target === 'string' ? size : (target.numbers?.length ?? 0);

/** From a day on nobody does anything to the batch. */
function left(site: Site, day: Day, late: readonly [number, number]): Slip | undefined {
  forget(site, day);
  const line = lastNamed(site, day);
  return line && { line, today: day + site.draw.int(...late) };
}

/** Carried out in summer, not taken by October, and no roof put over it. */
function uncoveredInAutumn(site: Site): Slip | undefined {
  const { batch, season, draw } = site;
  const october = season.calendar.next('oct-01', batch.last);
  const today = october + draw.int(1, 20);
  if ((batch.swell ?? 0) <= today) return undefined;
  season.lines = season.lines.filter(
    (line) => line.batch !== batch || !['cover', 'move'].includes(line.verb) || (line.day ?? 0) <= batch.first,
  );
  const line = lastNamed(site, today);
  return line && { line, today };
}

/** Nothing written about the batch or its place until the clock has run out; it stands from November to February. */
function quiet(site: Site, day: Day, longest: number): Slip | undefined {
  const { season, draw } = site;
  forget(site, day);
  season.declaredFirst = true;
  const places = season.places.map(({ name }) => name);
  season.lines = season.lines.filter(
    ({ verb, target, day: on = 0 }) =>
      !['reading', 'water'].includes(verb) || typeof target !== 'string' || !places.includes(target) || on <= day,
  );
  const line = lastNamed(site, day);
  if (!line?.day) return undefined;
  return { line, today: running(season.calendar, line.day, longest + 1) + draw.int(0, 20), severity: 'information' };
}

/** The day on which so many days between March and October have passed. */
function running(calendar: Calendar, from: Day, days: number): Day {
  let day = from;
  for (let left = days; left > 0; ) {
    day += 1;
    if (calendar.within(day, 'mar-01', 'oct-31')) left -= 1;
  }
  return day;
}
