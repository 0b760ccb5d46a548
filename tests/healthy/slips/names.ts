import { factOf, type Line, setFact } from '../model.ts';
import { detachedMethods } from '../plants.ts';
import { benchSlip, between, declare, insert, type Planter, type Planters, type Site, someDay } from './slip.ts';

const numbered = { counted: false } as const;
/** Covered by what is on the graft, whatever is known of the place. */
const wrapped = {
  methods: detachedMethods,
  wraps: ['film', 'bag', 'wax'],
  places: ['frame', 'garage', 'lath', 'yard'],
} as const;

const checked = (name: (site: Site) => string | undefined): Planter => ({
  wish: numbered,
  plant: (site) => {
    const day = between(site);
    const target = name(site);
    return target === undefined
      ? undefined
      : { line: insert(site, site.draw.pick(['check', 'water', 'swell', 'retie']), day, [], target), today: day };
  },
});

/** What the names of a log can have wrong, and work without a day. */
export const names: Planters = {
  'no-date': [
    {
      plant: (site) => {
        const line = declare(site, 'check', site.batch.name, ['green']);
        line.top = true;
        return { line, today: someDay(site, site.batch.first) };
      },
    },
  ],
  'unknown-batch': [
    checked(() => 'ZZ9'),
    checked(() => 'ZZ9.3'),
    checked(({ batch }) => `${batch.name.slice(0, -1)}99`),
  ],
  'unknown-graft': [
    checked(({ batch: { name, size } }) => `${name}.${size + 1}`),
    checked(({ batch: { name, size } }) => `${name}.${size + 5}..${size + 9}`),
  ],
  'unknown-place': [
    {
      plant: (site) => {
        const day = between(site);
        return {
          line: insert(site, 'reading', day, ['min 2C'], 'tunel'),
          today: someDay(site, day),
          severity: 'warning',
        };
      },
    },
    {
      plant: (site) => ({
        line: declare(site, 'tree', 'T90', ['Pinus mugo', 'in tunel']),
        today: someDay(site, site.batch.last),
      }),
    },
    {
      plant: (site) => {
        const day = between(site);
        return { line: insert(site, 'collect', day, ['Pinus mugo', 'in frige'], 'L90'), today: someDay(site, day) };
      },
    },
    {
      wish: { potted: true },
      plant: (site) => {
        const day = between(site);
        return { line: insert(site, 'move', day, ['to tunel']), today: day };
      },
    },
    {
      wish: { ...wrapped, potted: true },
      plant: (site) => {
        setFact(site.batch.declaration, 'in', 'in tunel');
        return { line: site.batch.declaration, today: site.batch.last + site.draw.int(0, 20) };
      },
    },
  ],
  'unknown-lot': [{ wish: { ...wrapped, told: true }, plant: (site) => benchSlip(site, ['lot L99']) }],
  'unknown-tree': [
    { wish: { ...wrapped, told: true }, plant: (site) => benchSlip(site, ['from T99']) },
    {
      wish: { lot: true, methods: detachedMethods },
      plant: (site) => {
        const line = site.batch.collect;
        if (!line) return undefined;
        setFact(line, 'from', 'from T99');
        return { line, today: someDay(site, site.batch.last) };
      },
    },
    {
      wish: { ...wrapped, potted: false, told: true },
      plant: ({ batch, draw }) => {
        const line = draw.pick(batch.grafts);
        setFact(line, 'onto', 'onto T99');
        return { line, today: batch.last + draw.int(0, 20) };
      },
    },
  ],
  'repeated-graft': [
    {
      wish: numbered,
      plant: (site) => {
        const { batch, draw } = site;
        const line = draw.pick(batch.grafts);
        const numbers = typeof line.target === 'string' ? [] : (line.target.numbers ?? []);
        const again: Line = { ...line, facts: [...line.facts], target: `${batch.name}.${draw.pick(numbers)}` };
        site.season.lines.push(again);
        return { line: again, today: someDay(site, batch.last) };
      },
    },
  ],
  'repeated-name': [
    {
      plant: (site) => {
        const { name, line } = site.batch.place;
        return {
          line: declare(
            site,
            'place',
            name,
            line.facts.filter(({ key }) => key !== 'capacity').map(({ text }) => text),
          ),
          today: someDay(site, site.batch.last),
        };
      },
    },
    {
      plant: (site) => ({
        line: declare(site, 'place', site.draw.pick(['film', 'dry', 'summer', 'graft', 'needle'])),
        today: someDay(site, site.batch.last),
      }),
    },
    {
      plant: (site) => ({
        line: declare(site, 'tree', site.batch.name, ['Pinus mugo']),
        today: someDay(site, site.batch.last),
      }),
    },
    {
      wish: { lot: true, methods: detachedMethods },
      plant: (site) => {
        const { collect, last } = site.batch;
        if (!collect || typeof collect.target !== 'string') return undefined;
        const line = insert(site, 'collect', last + 1, [factOf(collect, 'taxa') ?? ''], collect.target);
        return { line, today: someDay(site, last + 1) };
      },
    },
    {
      plant: (site) => {
        if (site.season.calendar.lat === undefined) return undefined;
        return { line: declare(site, 'site', 'Second-Lane', ['lon 8.10']), today: someDay(site, site.batch.last) };
      },
    },
  ],
};
