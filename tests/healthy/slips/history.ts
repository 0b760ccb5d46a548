import { fact, factOf, livingOn, setFact } from '../model.ts';
import { detachedMethods } from '../plants.ts';
import { rangesText } from '../write.ts';
import { between, declare, insert, type Planters, type Site, type Slip, someDay, written } from './slip.ts';

const numbered = { counted: false } as const;
/** What the days and histories of a log can have wrong. */
export const history: Planters = {
  'future-date': [
    {
      plant: (site) => {
        const today = someDay(site, site.batch.last);
        const line = insert(site, site.draw.pick(['check', 'water', 'swell']), today + site.draw.int(1, 400));
        line.ahead = true;
        return { line, today };
      },
    },
  ],
  'before-graft': [
    {
      plant: (site) => {
        const { batch, draw } = site;
        const facts = draw.pick([
          ['swell'],
          ['open', '5%'],
          ['free'],
          ['untie'],
          ['rewrap'],
          ['retie'],
          ['fail', 'dried'],
          ['take'],
        ]);
        const target = batch.counted || draw.chance(50) ? batch.name : `${batch.name}.1`;
        const day = batch.first - draw.int(1, 60);
        return { line: insert(site, facts[0] ?? '', day, facts.slice(1), target), today: someDay(site, batch.last) };
      },
    },
  ],
  'after-end': [
    { wish: numbered, plant: lostAgain },
    {
      plant: (site) => {
        const { sold } = site.batch;
        if (sold === undefined) return undefined;
        const day = sold + site.draw.int(1, 100);
        return { line: insert(site, site.draw.pick(['water', 'free', 'retie']), day, [], site.batch.name), today: day };
      },
    },
  ],
  contradiction: [
    { wish: { methods: detachedMethods }, plant: (site) => twice(site, 'long 40mm', 'long 38mm') },
    { wish: { methods: ['side', 'side-veneer'] }, plant: (site) => twice(site, 'cut 40%', 'cut 35%') },
    {
      plant: (site) => {
        const day = between(site);
        return { line: insert(site, 'check', day, ['green', '"one"', '"two"']), today: someDay(site, day) };
      },
    },
    { plant: (site) => again(site, 'headback') },
    { plant: (site) => again(site, 'untie') },
    { wish: { methods: ['approach', 'thread'] }, plant: (site) => again(site, 'sever') },
    {
      wish: numbered,
      plant: (site) => {
        const day = site.batch.last;
        return { line: insert(site, 'graft', day, ['x5'], site.batch.name), today: someDay(site, day) };
      },
    },
    {
      wish: { potted: false, counted: false },
      plant: (site) => {
        const { batch, draw } = site;
        const line = draw.pick(batch.grafts);
        setFact(line, 'in', `in ${batch.place.name}`);
        return { line, today: someDay(site, batch.last) };
      },
    },
    {
      wish: { potted: false, methods: detachedMethods },
      plant: (site) => {
        const day = between(site);
        return { line: insert(site, 'move', day, [`to ${site.batch.place.name}`]), today: someDay(site, day) };
      },
    },
    {
      plant: (site) => ({
        line: declare(site, 'batch', 'Z90', ['like Z90', 'side']),
        today: someDay(site, site.batch.last),
      }),
    },
  ],
  'count-exceeds': [
    {
      plant: (site) => {
        const { batch, draw } = site;
        const day = between(site);
        const count = fact('count', `x${(batch.counted ? batch.size : livingOn(batch, day).length) + draw.int(1, 20)}`);
        const verb = draw.pick(['fail', 'take', 'sell', 'check']);
        return { line: insert(site, verb, day, [count.text], batch.name), today: day };
      },
    },
  ],
};

const isAlone = (numbers: readonly number[] | undefined, number: number): boolean =>
  numbers?.length === 1 && numbers[0] === number;

/** A number written off, and named once more. */
function lostAgain(site: Site): Slip | undefined {
  const { batch, draw, season } = site;
  const day = between(site);
  const living = livingOn(batch, day);
  if (living.length < 2) return undefined;
  const number = draw.pick(living);
  const lost = batch.lost.get(number);
  if (lost !== undefined && lost <= day + 10) return undefined;
  const later = day + draw.int(1, 10);
  if (later >= (batch.take ?? later)) return undefined;
  insert(site, 'fail', day, ['dried'], `${batch.name}.${number}`);
  batch.lost.set(number, day);
  // Nobody writes any more about a graft that went a way of its own.
  season.lines = season.lines.filter(
    ({ verb, target, day: on = 0 }) =>
      verb === 'fail' || typeof target === 'string' || on < day || !isAlone(target.numbers, number),
  );
  const rest = living.filter((one) => one !== number && one < number).slice(0, 3);
  const line = insert(
    site,
    draw.pick(['check', 'water', 'retie', 'feed']),
    later,
    [],
    `${batch.name}.${rangesText([...rest, number])}`,
  );
  return { line, today: later };
}

/** A key said twice on one line. */
function twice(site: Site, first: string, second: string): Slip {
  const key = first.split(' ')[0] ?? '';
  const line = written(site, [fact(key, first)]);
  line.facts.push(fact('again', second));
  return { line, today: someDay(site, line.day ?? site.batch.last) };
}

/** What was done once is written a second time, as far as before. */
function again(site: Site, verb: string): Slip | undefined {
  const { batch, season, draw } = site;
  const once = season.lines
    .filter((line) => line.verb === verb && line.batch === batch && (line.day ?? 0) > batch.last)
    .at(-1);
  if (!once?.day || (batch.sold ?? Number.POSITIVE_INFINITY) <= once.day + 60) return undefined;
  const share = factOf(once, 'share');
  const day = once.day + draw.int(43, 59);
  const line = insert(site, verb, day, share ? [share] : []);
  return { line, today: day };
}
