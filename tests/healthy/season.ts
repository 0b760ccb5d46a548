import type { Day } from '#grammar/statement.ts';
import { bench, type Wish } from './batch.ts';
import { Calendar } from './calendar.ts';
import type { Draw } from './draw.ts';
import { bud, feed } from './fed.ts';
import { grow } from './growing.ts';
import { after, keepUp } from './later.ts';
import { type Batch, fact, type Place, type Season } from './model.ts';
import { Nursery } from './nursery.ts';
import { buds, detachedMethods, fedMethods, isIn } from './plants.ts';
import { nextYear, ownWays } from './ways.ts';
import { weather } from './weather.ts';

/** Latitudes of both hemispheres, near and far from the equator; undefined: the log says none. */
const latitudes = [47.9, 58.4, 51, 40, 35.2, 24, 12.5, -4, -24.5, -33.8, -41.3, -46, undefined];

/** A season of one to four batches in good hands, as it stands on a day between its first graft and its end. */
export function makeSeason(draw: Draw, wish: Wish = {}): Season | undefined {
  const asked = Object.keys(wish).length > 0;
  const temperate = latitudes.filter((lat) => Math.abs(lat ?? 90) > 23.5);
  const calendar = new Calendar(draw.pick(asked ? temperate : latitudes));
  const season: Season = {
    ...{ calendar, recordsCuts: asked || draw.chance(80), places: [], batches: [], lines: [], today: 0 },
  };
  const nursery = new Nursery(draw, season);
  const { lat } = calendar;
  if (lat !== undefined)
    nursery.declare('site', 'Drumlin-Lane', [
      fact('lat', `lat ${lat}`),
      ...(draw.chance(60) ? [fact('tz', `tz ${lat < 0 ? 'Australia/Melbourne' : 'Europe/Berlin'}`)] : []),
    ]);
  const count = draw.int(1, 4);
  for (let made = 0; made < count; made++) {
    const batch = bench(nursery, draw.int(2024, 2027), made === 0 ? wish : {});
    if (!batch && made === 0) return undefined;
    if (!batch) continue;
    season.batches.push(batch);
    const next = draw.chance(15) ? nextYear(nursery, batch) : undefined;
    if (next) season.batches.push(next);
    if (!asked && draw.chance(25)) ownWays(nursery, next ?? batch);
  }
  for (const batch of season.batches) raise(nursery, batch);
  // What a slip waits for may lie behind the last line of the season.
  const horizon = Math.max(...season.lines.map((line) => line.day ?? 0)) + (asked ? 600 : 30);
  for (const batch of season.batches) keepUp(nursery, batch, horizon);
  readings(nursery, horizon);
  weather(nursery, horizon);
  rooms(nursery);
  const start = Math.min(...season.batches.map((batch) => batch.first));
  season.today = draw.int(start, horizon);
  return season;
}

function raise(nursery: Nursery, batch: Batch): void {
  if (isIn(buds, batch.method)) bud(nursery, batch);
  else if (isIn(fedMethods, batch.method)) feed(nursery, batch);
  else {
    grow(nursery, batch);
    after(nursery, batch);
  }
}

/** The season as it is written on a day: what is later isn't there yet, nor a batch whose wood isn't cut yet. */
export function writtenUntil(season: Season, today: Day): Season {
  const begun = ({ first, collect }: Batch): boolean => Math.min(first, collect?.day ?? first) <= today;
  const lines = season.lines.filter(
    ({ day, batch, ahead }) => (ahead || day === undefined || day <= today) && (batch === undefined || begun(batch)),
  );
  return { ...season, lines, batches: season.batches.filter(begun), today };
}

/** A frost where it does no harm: after the take, on buds and what has its own roots, on what sleeps outdoors. */
function frost(nursery: Nursery, place: Place, horizon: Day): void {
  const { draw, season, calendar } = nursery;
  const there = season.batches.filter((batch) => batch.place === place);
  const [batch] = there;
  if (!batch || there.length > 1) return;
  const { method, pair, first, take = horizon } = batch;
  const month = calendar.month(first);
  const sheds = pair?.group === 'shedding' || pair?.group === 'broadleaf';
  const sleeps = sheds && !calendar.tropical && (month >= 10 || month <= 4);
  const hardy = !isIn(detachedMethods, method) || (sleeps && (place.kind === 'yard' || place.kind === 'lath'));
  const from = hardy ? first : take + 1;
  if (from >= horizon) return;
  nursery.workAt('reading', place.name, draw.int(from, horizon), [fact('min', `min -${draw.int(1, 15)}C`)]);
}

/** A thermometer read now and then: never a frost nor heat where it would do harm. */
function readings(nursery: Nursery, horizon: Day): void {
  const { draw, season } = nursery;
  const start = Math.min(...season.batches.map((batch) => batch.first));
  for (const place of season.places) {
    if (place.own && draw.chance(60)) continue;
    if (place.own && draw.chance(50)) frost(nursery, place, horizon);
    for (let left = draw.int(0, 3); left > 0; left--) {
      const day = draw.int(start, horizon);
      const facts = [
        fact('min', `min ${draw.pick(['0C', '0.5C', '4C', '-0.0C', '41F'])}`),
        fact('max', `max ${draw.pick(['18C', '31.9C', '24C', '80F'])}`),
        fact('rh', `rh ${draw.int(40, 100)}%`),
      ].filter(() => draw.chance(60));
      if (facts.length > 0) nursery.workAt('reading', place.name, day, facts);
      else nursery.workAt('water', place.name, day);
    }
  }
}

/** Rooms that hold just what is carried in. */
function rooms({ draw, season }: Nursery): void {
  for (const place of season.places) {
    if (!draw.chance(35)) continue;
    const shared = !place.own && ['frame', 'yard'].includes(place.kind);
    const there = season.batches.filter((batch) => shared || batch.place === place);
    const holds = there.reduce((sum, batch) => sum + batch.size, 0);
    if (holds > 0) place.line.facts.push(fact('capacity', `capacity ${holds}`));
  }
}
