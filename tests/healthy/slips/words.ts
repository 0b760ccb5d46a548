import { isoDay } from '#grammar/values/date.ts';
import { fact, type Line } from '../model.ts';
import { detachedMethods } from '../plants.ts';
import {
  benchSlip,
  between,
  declare,
  insert,
  type Planter,
  type Planters,
  type Site,
  type Slip,
  someDay,
} from './slip.ts';

const numbered = { counted: false } as const;
const detached = { methods: detachedMethods } as const;

/** A check more, with something wrong in it. */
const check = (...texts: readonly string[]): Planter => ({
  plant: (site) => {
    const day = between(site);
    return { line: insert(site, 'check', day, [site.draw.pick(texts)]), today: someDay(site, day) };
  },
});

/** A reading more. */
const reading = (...texts: readonly string[]): Planter => ({
  plant: (site) => {
    const day = between(site);
    const line = insert(site, 'reading', day, [site.draw.pick(texts)], site.batch.place.name);
    return { line, today: someDay(site, day) };
  },
});

/** A fact of a scion graft, written wrongly. */
const facts = (...texts: readonly string[]): Planter => ({
  wish: detached,
  plant: (site) => benchSlip(site, [site.draw.pick(texts)]),
});

/** A line of work that says nothing, as its value is wanting. */
const unsaid = (verb: string): Planter => ({
  plant: (site) => {
    const day = between(site);
    return { line: insert(site, verb, day), today: someDay(site, day) };
  },
});

/** A whole line as it stands, day and all. */
function raw(site: Site, text: (day: string) => string): Slip {
  const day = between(site);
  const line = insert(site, 'check', day);
  line.raw = text(isoDay(day));
  return { line, today: someDay(site, day) };
}

/** What one line alone can have wrong. */
export const words: Planters = {
  unreadable: [
    { plant: (site) => raw(site, (day) => `${day}  check ${site.batch.name} "half a thought`) },
    check('green &&', 'plump %', 'callus ?!'),
    {
      wish: numbered,
      plant: (site) => raw(site, (day) => `${day}  ${site.batch.name}.1  taken`),
    },
    {
      plant: (site) => ({
        line: declare(site, 'tree', 'T90', ["Pinus mugo 'Winter"]),
        today: someDay(site, site.batch.last),
      }),
    },
    {
      plant: (site) => {
        const day = between(site);
        return { line: insert(site, 'collect', day, ['Pinus mugo', 'x 60'], 'L90'), today: someDay(site, day) };
      },
    },
  ],
  'unknown-word': [
    check('gren', 'plumb', 'mouldy', 'dryish', 'tomorrow'),
    {
      plant: (site) =>
        raw(site, (day) => `${day} ${site.draw.pick(['chekc', 'inspect', 'tkae'])} ${site.batch.name} green`),
    },
    {
      wish: detached,
      plant: (site) => {
        const line = site.draw.pick(site.batch.grafts);
        // In front, as `tie` and `wax` take the word behind them.
        const front = site.batch.counted ? 1 : 0;
        line.facts.splice(front, 0, fact('slip', site.draw.pick(['frosfree', 'shadow', 'ripend'])));
        return { line, today: someDay(site, site.batch.last) };
      },
    },
  ],
  'bad-date': [
    {
      plant: (site) =>
        raw(site, () => `${site.draw.pick(['2026-02-30', '2025-13-01', '2026-04-31'])} check ${site.batch.name} green`),
    },
    {
      plant: (site) =>
        raw(site, () => `${site.draw.pick(['9.10.2026', '3/4/2026', '31.12.26'])} check ${site.batch.name} green`),
    },
    {
      plant: (site) => {
        const slip = raw(site, (day) => `${day.replace(/-0/g, '-')} check ${site.batch.name} green`);
        return /^\d+-\d\d-\d\d /.test(slip.line.raw ?? '') ? undefined : { ...slip, severity: 'warning' };
      },
    },
    { plant: lastYear },
  ],
  'missing-value': [
    facts('cut', 'long', 'scion', 'stock', 'by'),
    reading('min', 'max', 'rh'),
    ...['open', 'headback', 'move', 'cover'].map(unsaid),
  ],
  'wrong-unit': [
    facts('cut 40', 'long 30', 'stock 9', 'scion 90', 'out 4', 'out 5m', 'long 2oz', 'stock 1.5"'),
    reading('min 2', 'max 24', 'rh 95'),
  ],
  'decimal-comma': [facts('scion 4,5mm x 90mm', 'stock 9,5mm', 'long 30,5mm'), reading('min 1,5C', 'max 20,5C')],
  'unit-slip': [
    facts('long 30cm', 'scion 4cm x 90mm', 'scion 4mm x 90cm', 'stock 90cm', 'unpruned 30y', 'cut 99%', 'cut 0.1%'),
    facts('whorls 20', 'long 2mm'),
    { wish: { ...detached, wraps: ['film'] }, plant: (site) => benchSlip(site, ['film 38cm']) },
    reading('max 70C', 'min -80C', 'rh 120%'),
    check('x0'),
    { wish: detached, plant: (site) => benchSlip(site, ['long 26mm', 'short 30mm']) },
    { wish: numbered, plant: (site) => named(site, '0') },
  ],
  'set-too-large': [
    { wish: numbered, plant: (site) => named(site, '1..2000000') },
    check('x3000000'),
    {
      plant: (site) => {
        const day = between(site);
        return { line: insert(site, 'collect', day, ['Pinus mugo', 'x4000000'], 'L90'), today: someDay(site, day) };
      },
    },
  ],
};

function named(site: Site, numbers: string): Slip {
  const day = between(site);
  return { line: insert(site, 'check', day, ['green'], `${site.batch.name}.${numbers}`), today: someDay(site, day) };
}

/** In January the old year's number comes easily: a day line a year before the one above it. */
function lastYear(site: Site): Slip {
  const today = someDay(site, site.batch.last);
  const [above, line, under] = ['', '', ''].map(() => insert(site, 'water', today)) as [Line, Line, Line];
  above.raw = isoDay(today);
  line.raw = isoDay(today - site.draw.int(301, 366));
  under.raw = `water ${site.batch.place.name}`;
  return { line, today, severity: 'warning' };
}
