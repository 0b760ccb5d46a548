import type { Day } from '#grammar/statement.ts';
import { type Line, setFact } from '../model.ts';
import { detachedMethods } from '../plants.ts';
import { between, forget, insert, type Planter, type Planters, type Site, type Slip } from './slip.ts';

const opened = { methods: detachedMethods, wraps: ['film', 'bag'] } as const;
const side = ['side-veneer', 'side'] as const;
const conifers = { groups: ['needle', 'scale'], told: true } as const;

/** One of the batch's steps of opening, that no mould asked for. */
function aStep({ draw, season, batch }: Site, fits: (line: Line) => boolean): Line | undefined {
  const steps = season.lines.filter(
    (line) => line.batch === batch && line.step && fits(line) && !airs({ season, batch }, line),
  );
  return steps.length > 0 ? draw.pick(steps) : undefined;
}

/** Mould or water was seen on or after the day of the step before. */
function airs({ season, batch }: Pick<Site, 'season' | 'batch'>, { day = 0, step }: Line): boolean {
  const since = step?.since ?? 0;
  return season.lines.some(
    (line) =>
      line.batch === batch &&
      (line.day ?? 0) >= since &&
      (line.day ?? 0) <= day &&
      line.facts.some(({ key }) => key === 'mould' || key === 'wet'),
  );
}

const atStep = (fits: (line: Line) => boolean, slip: (site: Site, line: Line) => Day | undefined): Planter => ({
  wish: opened,
  plant: (site) => {
    const line = aStep(site, fits);
    const today = line && slip(site, line);
    return line && today !== undefined ? { line, today } : undefined;
  },
});

/** One line of work more, on a day that is too soon for it; nothing later is written yet. */
const tooSoon = (
  wish: NonNullable<Planter['wish']>,
  work: (
    site: Site,
  ) => { readonly verb: string; readonly from: Day; readonly to: Day; readonly share?: string } | undefined,
  severity?: 'information',
): Planter => ({
  wish,
  plant: (site): Slip | undefined => {
    const done = work(site);
    if (!done || done.to < done.from) return undefined;
    const day = site.draw.int(done.from, done.to);
    forget(site, day - 1);
    const line = insert(site, done.verb, day, done.share ? [done.share] : []);
    return { line, today: day, ...(severity ? { severity } : {}) };
  },
});

/** 1 October of the first year it can have grown. */
const october = ({ season, batch }: Site): Day => season.calendar.next('oct-01', batch.last + 1);

/** Opening, untying, heading back, judging, against the pages of their codes. */
export const course: Planters = {
  'wrap-shrank': [
    atStep(
      ({ step }) => step?.since !== undefined && step.before > 5,
      (site, line) => {
        setFact(line, 'share', `${site.draw.int(1, (line.step?.before ?? 2) - 1)}%`);
        return line.day;
      },
    ),
  ],
  'open-wide': [
    atStep(
      () => true,
      (site, line) => {
        setFact(line, 'share', `${Math.min(100, (line.step?.before ?? 0) + site.draw.int(11, 40))}%`);
        return (line.step?.before ?? 0) < 85 ? line.day : undefined;
      },
    ),
  ],
  'open-soon': [
    atStep(
      ({ step }) => step?.since !== undefined,
      ({ season, batch, draw }, line) => {
        const since = line.step?.since ?? 0;
        line.day = since + draw.int(1, 9);
        return airs({ season, batch }, line) ? undefined : line.day;
      },
    ),
  ],
  'open-early': [
    tooSoon(opened, ({ batch, season }) => {
      const aired = season.lines.some(
        (line) => line.batch === batch && line.verb === 'open' && (line.day ?? 0) < (batch.swell ?? 0),
      );
      const swells = season.lines
        .filter((line) => line.batch === batch && line.verb === 'swell')
        .map((line) => line.day ?? 0);
      return aired ? undefined : { verb: 'open', from: batch.last + 1, to: Math.min(...swells) - 1, share: '5%' };
    }),
    {
      wish: { ...opened, own: true, places: ['tent'] },
      plant: (site) => {
        const { batch, draw, season } = site;
        const signs = season.lines.filter(
          (line) =>
            line.batch === batch &&
            (line.verb === 'swell' || line.facts.some(({ key }) => key === 'mould' || key === 'wet')),
        );
        const last = Math.min(...signs.map((line) => line.day ?? 0)) - 1;
        if (last <= batch.last) return undefined;
        const day = draw.int(batch.last + 1, last);
        return { line: insert(site, 'open', day, ['10%'], batch.place.name), today: day };
      },
    },
  ],
  'dry-opened': [
    atStep(
      ({ step }) => step?.since !== undefined,
      (site, line) => {
        const { batch, season, draw } = site;
        const day = line.day ?? 0;
        const seen = day - draw.int(1, 2);
        season.lines = season.lines.filter(
          (other) =>
            other.batch !== batch || other.verb !== 'check' || (other.day ?? 0) < seen || (other.day ?? 0) > day,
        );
        const check = insert(site, 'check', seen, ['dry'], line.target);
        return check.day === undefined ? undefined : day;
      },
    ),
  ],
  'swell-early': [
    {
      wish: { methods: detachedMethods, ...conifers, months: [10, 11, 12, 1, 2, 3], sittings: 1 },
      plant: (site) => {
        const { batch, draw } = site;
        forget(site, batch.last);
        const day = batch.last + draw.int(1, 20);
        return { line: insert(site, 'swell', day), today: day + draw.int(0, 7), severity: 'information' };
      },
    },
  ],
  'union-uncovered': [
    tooSoon(
      { methods: detachedMethods, groups: ['needle', 'scale', 'shedding'], told: true, wraps: ['film', 'bag'] },
      (site) => {
        const { batch } = site;
        return { verb: 'untie', from: batch.last + 1, to: Math.min(batch.take ?? 0, october(site)) - 1 };
      },
    ),
    tooSoon({ methods: detachedMethods, groups: ['broadleaf'], told: true, wraps: ['film', 'bag'] }, ({ batch }) => ({
      ...{ verb: 'untie', from: (batch.free ?? 0) + 1, to: Math.min((batch.free ?? 0) + 41, (batch.take ?? 0) - 1) },
    })),
    tooSoon({ methods: ['chip-bud'] }, ({ batch: { last } }) => ({ verb: 'untie', from: last + 1, to: last + 20 })),
    tooSoon({ methods: ['t-bud'] }, ({ batch: { last } }) => ({ verb: 'untie', from: last + 1, to: last + 13 })),
  ],
  'headback-early': [
    tooSoon({ methods: side, ...conifers }, ({ batch, draw }) => ({
      ...{ verb: 'headback', from: batch.last + 1, to: (batch.take ?? 0) - 1, share: draw.pick(['1/3', '50%', '10%']) },
    })),
    tooSoon({ methods: side, groups: ['shedding', 'broadleaf'], told: true }, ({ batch }) => ({
      ...{ verb: 'headback', from: batch.last + 1, to: (batch.free ?? 0) + 13, share: '50%' },
    })),
  ],
  'headback-hard': [
    tooSoon({ methods: side, ...conifers }, ({ batch, draw, season }) => {
      const take = batch.take ?? 0;
      season.lines = season.lines.filter((line) => line.batch !== batch || line.verb !== 'headback');
      return { verb: 'headback', from: take + 1, to: take + 60, share: draw.pick(['51%', '2/3', '100%']) };
    }),
    {
      wish: { methods: side, ...conifers },
      plant: (site) => {
        const { batch, draw, season } = site;
        const take = batch.take ?? 0;
        forget(site, take);
        season.lines = season.lines.filter((line) => line.batch !== batch || line.verb !== 'headback');
        insert(site, 'headback', take + 1, ['1/3']);
        const day = take + 1 + draw.int(1, 41);
        return { line: insert(site, 'headback', day, ['2/3']), today: day };
      },
    },
  ],
  'take-early': [
    tooSoon(
      { methods: detachedMethods },
      ({ batch: { first, last } }) => ({ verb: 'take', from: last + 1, to: first + 41 }),
      'information',
    ),
    tooSoon(
      { methods: ['chip-bud', 't-bud'] },
      ({ batch: { first, last } }) => ({ verb: 'take', from: last + 1, to: first + 13 }),
      'information',
    ),
    {
      wish: { methods: ['approach', 'thread'] },
      plant: (site) => {
        const day = between(site);
        if (day > site.batch.first + 41) return undefined;
        forget(site, day - 1);
        return { line: insert(site, 'take', day), today: day, severity: 'information' };
      },
    },
  ],
};
