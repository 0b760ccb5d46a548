import type { Severity } from '#grammar/finding.ts';
import type { Day } from '#grammar/statement.ts';
import { dropFact, factOf, setFact } from '../model.ts';
import { detachedMethods } from '../plants.ts';
import { declare, insert, type Planter, type Planters, plain, type Site, type Slip, someDay } from './slip.ts';

const wraps = ['film', 'bag', 'wax'] as const;
const conifers = { methods: detachedMethods, groups: ['needle', 'scale'], wraps, told: true } as const;
const single = { ...conifers, sittings: 1, own: true } as const;

/** Takes a flag from the place and from all covers put on there. */
function bare({ season, batch }: Site, ...flags: readonly string[]): void {
  const { place } = batch;
  dropFact(place.line, ...flags);
  for (const line of season.lines) if (line.verb === 'cover' && line.target === place.name) dropFact(line, ...flags);
  season.lines = season.lines.filter((line) => line.verb !== 'cover' || line.facts.length > 0);
}

/** Grafts made where a shelter is wanting. */
const made = (months: readonly number[], places: readonly ('frame' | 'garage' | 'lath')[], flag: string): Planter => ({
  wish: { ...single, months, places },
  plant: (site) => {
    bare(site, flag);
    const line = site.batch.grafts[0];
    return line && { line, today: someDay(site, site.batch.first) };
  },
});

/** Grafts carried before they are free to where a shelter is wanting. */
const moved = (from: 'sep-01' | 'mar-01', to: 'may-15' | 'aug-31', flags: readonly string[]): Planter => ({
  // From where no fleece of their own goes with them.
  wish: { ...conifers, potted: true, places: ['frame', 'garage', 'mist'] },
  plant: (site) => {
    const { batch, season, draw } = site;
    const open = Math.min(batch.free ?? 0, batch.take ?? 0);
    const start = Math.max(batch.last + 1, season.calendar.next(from, batch.first - 200));
    // Where no latitude is said, frost is surely reckoned with till the end of April.
    const { lat, lastFrost } = season.calendar;
    const last = to === 'aug-31' ? to : lat === undefined ? 'apr-30' : lastFrost;
    const end = Math.min(open - 1, season.calendar.next(last, start));
    const day = draw.int(start, Math.max(start, end));
    if (start > end || !season.calendar.within(day, from, last)) return undefined;
    if (season.lines.some((line) => line.batch === batch && line.verb === 'free' && (line.day ?? 0) <= day))
      return undefined;
    const place = declare(site, 'place', 'terrace', flags);
    return { line: insert(site, 'move', day, [`to ${place.target}`]), today: day };
  },
});

/** A cold night, or a hot day, read where the batch stands. */
const read = (text: (site: Site) => string, last: (site: Site) => Day): Planter['plant'] => {
  return (site): Slip | undefined => {
    const { batch, draw, season } = site;
    const leaving = season.lines
      .filter((line) => ['move', 'uncover', 'cover'].includes(line.verb) && line.batch === batch)
      .map((line) => line.day ?? 0)
      .filter((day) => day > batch.first);
    const end = Math.min(last(site), ...leaving.map((day) => day - 1));
    if (end < batch.last) return undefined;
    const day = draw.int(batch.last, end);
    season.lines = season.lines.filter(
      (line) => line.verb !== 'reading' || line.target !== batch.place.name || line.day !== day,
    );
    const line = insert(site, 'reading', day, [text(site)], batch.place.name);
    return { line, today: day + draw.int(0, 3) };
  };
};
const frost = ({ draw }: Site): string => `min ${draw.pick(['-0.1C', '-1.5C', '-8C', '30F'])}`;
const heat = ({ draw }: Site): string => `max ${draw.pick(['32C', '34C', '39.5C', '95F'])}`;
const untaken = ({ batch }: Site): Day => (batch.take ?? 0) - 1;

const offSeason = (wish: NonNullable<Planter['wish']>, severity: Severity): Planter => ({
  wish: { ...wish, off: true, sittings: 1, places: ['frame'], own: true },
  plant: (site) => {
    const line = site.batch.grafts[0];
    return line && { line, today: site.batch.first + site.draw.int(0, 15), severity };
  },
});
const evergreen = ['side-veneer', 'side', 'cleft', 'whip', 'saddle'] as const;

/** Season, store and what stands over the grafts, against the pages of their codes. */
export const shelter: Planters = {
  'season-off': [
    offSeason({ methods: evergreen, groups: ['needle'], genera: ['Abies'], months: [6, 7, 8] }, 'warning'),
    offSeason({ methods: evergreen, groups: ['needle'], genera: ['Abies'], months: [9, 10, 11] }, 'information'),
    offSeason(
      { methods: evergreen, groups: ['needle'], genera: ['Pinus', 'Picea', 'Taxus'], months: [6, 7] },
      'information',
    ),
    offSeason({ methods: evergreen, groups: ['broadleaf'], months: [10, 11] }, 'information'),
    offSeason({ methods: ['bark'], groups: ['scale'], months: [7, 8, 9, 10, 11, 12, 1, 2, 3] }, 'information'),
    offSeason({ methods: ['t-bud'], months: [10, 11, 12, 1, 2] }, 'warning'),
    offSeason({ methods: ['chip-bud'], months: [10, 11, 12, 1] }, 'information'),
  ],
  'stored-long': [
    {
      wish: { methods: detachedMethods, lot: true, sittings: 1, groups: ['needle', 'scale', 'shedding'] },
      plant: (site) => stored(site, site.draw.int(43, 110)),
    },
    {
      wish: { methods: detachedMethods, lot: true, sittings: 1, groups: ['broadleaf'], months: [12, 1, 2, 3, 4, 5] },
      plant: (site) => stored(site, site.draw.int(61, 75)),
    },
    {
      wish: {
        methods: detachedMethods,
        lot: true,
        sittings: 1,
        groups: ['needle', 'scale', 'shedding'],
        months: [7, 8],
      },
      plant: (site) => stored(site, site.draw.int(8, 25)),
    },
  ],
  'stored-warm': [
    {
      wish: { methods: detachedMethods, lot: true },
      plant: (site) => {
        const line = site.batch.collect;
        // Wood used the same day was never kept.
        if (!line?.day || line.day >= site.batch.first || keepsFrozenOnly(site)) return undefined;
        const shed = declare(site, 'place', 'shed', [`at ${site.draw.pick(['6C', '9C', '50F'])}`]);
        setFact(line, 'in', `in ${shed.target}`);
        return { line, today: someDay(site, site.batch.last) };
      },
    },
    {
      wish: { methods: detachedMethods, lot: true },
      plant: (site) => {
        const { collect, first } = site.batch;
        if (!collect?.day || typeof collect.target !== 'string' || collect.day >= first || keepsFrozenOnly(site))
          return undefined;
        const shed = declare(site, 'place', 'shed', ['at 12C']);
        const day = site.draw.int(collect.day, first - 1);
        const line = insert(site, 'move', day, [`to ${shed.target}`], collect.target);
        return { line, today: someDay(site, first) };
      },
    },
    {
      wish: { methods: detachedMethods, lot: true },
      plant: (site) => {
        const { collect, first } = site.batch;
        const store = collect && factOf(collect, 'in')?.slice(3);
        if (!collect?.day || !store || first - collect.day < 2 || keepsFrozenOnly(site)) return undefined;
        const warm = site.draw.int(collect.day, first - 2);
        insert(site, 'reading', warm, ['min 7C'], store);
        const line = insert(site, 'reading', site.draw.int(warm + 1, first - 1), ['min 6C'], store);
        return { line, today: someDay(site, first) };
      },
    },
  ],
  'wrap-missing': [
    { wish: { ...conifers, places: ['frame', 'garage', 'lath'] }, plant: (site) => unwrapped(site, true) },
    {
      wish: { ...conifers, sittings: 1, places: ['frame', 'garage', 'lath'] },
      plant: (site) => unwrapped(site, false),
    },
  ],
  'frost-cover-missing': [
    made([9, 10, 11, 12, 1, 2], ['frame', 'garage'], 'frost-free'),
    moved('sep-01', 'may-15', ['shade', 'wind-break']),
    {
      wish: { ...single, potted: true, months: [9, 10, 11, 12, 1, 2], places: ['frame', 'garage'] },
      plant: (site) => {
        const line = site.batch.grafts[0];
        dropFact(site.batch.declaration, 'in');
        return line && { line, today: site.batch.first + site.draw.int(0, 30), severity: 'hint' };
      },
    },
  ],
  'sun-cover-missing': [
    made([3, 4, 5, 6, 7, 8], ['frame', 'lath'], 'shade'),
    moved('mar-01', 'aug-31', ['frost-free', 'wind-break']),
    {
      wish: { ...single, groups: ['broadleaf'], months: [6, 7, 8], places: ['frame', 'lath'] },
      plant: made([], ['lath'], 'shade').plant,
    },
  ],
  'wind-cover-missing': [made([3, 4, 5, 6, 7, 8], ['lath'], 'wind-break')],
  froze: [
    { wish: { ...conifers, places: ['frame', 'garage', 'mist'], own: true }, plant: read(frost, untaken) },
    { wish: { ...conifers, places: ['tent'], own: true }, plant: read(frost, untaken) },
    {
      wish: { methods: detachedMethods, groups: ['shedding', 'broadleaf'], places: ['frame', 'garage'], own: true },
      plant: read(frost, untaken),
    },
  ],
  'too-hot': [
    { wish: { methods: detachedMethods, wraps: ['film', 'bag'], own: true }, plant: read(heat, firstFree) },
    { plant: read(heat, ({ batch }) => batch.last) },
  ],
};

/** The day before the first of them is out of its wrap. */
function firstFree({ season, batch }: Site): Day {
  const free = season.lines.filter((line) => line.verb === 'free' && line.batch === batch).map((line) => line.day ?? 0);
  return Math.min(...free) - 1;
}

/** Wood so old that it would be too long in store as well, were it not frozen. */
const keepsFrozenOnly = ({ batch: { collect, last } }: Site): boolean => last - (collect?.day ?? last) > 42;

/** Wood cut so many days before the bench, and not frozen. */
function stored(site: Site, days: number): Slip | undefined {
  const { collect, grafts, first } = site.batch;
  const line = grafts[0];
  if (!collect || !line) return undefined;
  collect.day = first - days;
  dropFact(collect, 'in');
  const summer = [6, 7, 8].includes(site.season.calendar.month(collect.day));
  if (days < 43 ? !summer : summer && site.batch.pair?.group === 'broadleaf') return undefined;
  return { line, today: someDay(site, first) };
}

/** Only tied, or nothing noted beside what was done at the bench; before any wrap was opened, which would prove one. */
function unwrapped(site: Site, tied: boolean): Slip | undefined {
  const { batch, season, draw } = site;
  const told = season.lines.filter((line) => ['swell', 'open'].includes(line.verb) && line.batch === batch);
  const last = Math.min(...told.map((line) => line.day ?? 0)) - 1;
  if (last < batch.last) return undefined;
  const graft = batch.grafts[0];
  for (const line of [batch.declaration, ...batch.grafts]) dropFact(line, 'film', 'bag', 'wax', 'tie');
  if (tied) setFact(batch.declaration, 'tie', 'tie rubber');
  const line = tied ? batch.declaration : graft;
  if (graft && !tied) plain(site);
  if (graft && !tied) setFact(graft, 'scion', 'scion 90mm');
  return line && { line, today: draw.int(batch.last, last), ...(tied ? {} : { severity: 'hint' as const }) };
}
