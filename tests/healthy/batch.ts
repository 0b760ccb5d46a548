import type { Day } from '#grammar/statement.ts';
import { benchFacts } from './bench.ts';
import type { Draw } from './draw.ts';
import { type Batch, type Fact, fact, type Line, numbersOf, type PlaceKind, type Wrap } from './model.ts';
import { coverLater, type Nursery } from './nursery.ts';
import {
  buds,
  fedMethods,
  type Group,
  generaOf,
  groups,
  isIn,
  isSide,
  methods,
  type Pair,
  pairOf,
  taxaText,
} from './plants.ts';

/** What a batch must be for a slip to be made in it; anything left out is left to luck. */
export interface Wish {
  readonly methods?: readonly string[];
  readonly groups?: readonly Group[];
  readonly genera?: readonly string[];
  readonly wraps?: readonly Wrap[];
  /** Months as `practice.graft` counts them, for a northern nursery. */
  readonly months?: readonly number[];
  readonly places?: readonly PlaceKind[];
  readonly own?: boolean;
  readonly potted?: boolean;
  readonly counted?: boolean;
  readonly lot?: boolean;
  readonly sittings?: number;
  /** Made in a month that costs takes. */
  readonly off?: boolean;
  /** The plants are told by the batch line. */
  readonly told?: boolean;
}

/** Where a graft of that month may stand: the `needs` lines of `practice.graft`. */
function placesFor(method: string, group: Group | undefined, month: number): readonly PlaceKind[] {
  const all: readonly PlaceKind[] = ['frame', 'tent', 'mist', 'garage', 'lath', 'yard'];
  if (isIn([...buds, ...fedMethods], method) || group === 'shedding') return all;
  const leafy = month >= 6 && month <= 8;
  if (group === 'broadleaf') return leafy ? ['frame', 'tent', 'mist', 'lath'] : all;
  return month >= 3 && month <= 8 ? ['frame', 'tent', 'mist', 'lath'] : ['frame', 'tent', 'mist', 'garage'];
}

/** The months that cost takes, the `off` lines of `practice.graft`. Heat lets bark slip at any time. */
function monthsFor(method: string, pair: Pair | undefined, heated: boolean, off = false): number[] {
  const costly = new Set<number>();
  const close = (...months: readonly number[]): void => months.forEach((month) => void costly.add(month));
  if (!isIn([...buds, ...fedMethods], method)) {
    if (pair?.genus === 'Abies') close(6, 7, 8, 9, 10, 11);
    else if (pair?.group === 'needle' || !pair) close(6, 7);
    if (pair?.group === 'broadleaf' || !pair) close(10, 11);
  }
  if (!heated) {
    if (method === 'bark') close(7, 8, 9, 10, 11, 12, 1, 2, 3);
    if (method === 't-bud') close(10, 11, 12, 1, 2);
    if (method === 'chip-bud') close(10, 11, 12, 1);
  }
  return numbersOf(1, 12).filter((month) => costly.has(month) === off);
}

function wrapsFor(method: string, kind: PlaceKind): readonly Wrap[] {
  if (method === 'thread') return ['none'];
  if (method === 'approach') return ['tie', 'none'];
  if (method === 't-bud') return ['tie', 'film'];
  if (method === 'chip-bud') return ['film'];
  const damp = kind === 'tent' || kind === 'mist';
  return damp ? ['film', 'film', 'bag', 'wax', 'damp'] : ['film', 'film', 'film', 'bag', 'wax'];
}

const wrapTexts = (draw: Draw, wrap: Wrap): Fact[] => {
  const tie = fact('tie', draw.pick(['tie rubber', 'tie raffia', 'tie "budding strip"', 'tie']));
  const maybe = draw.chance(40) ? [tie] : [];
  if (wrap === 'film') return [fact('film', draw.pick(['film 38mm', 'film 25mm', 'film'])), ...maybe];
  if (wrap === 'bag') return [fact('bag'), ...maybe];
  if (wrap === 'wax') return [fact('wax', draw.pick(['wax', 'wax hot'])), ...maybe];
  if (wrap === 'tie') return [tie];
  return maybe;
};

const chosen = <T>(list: readonly T[], wished: readonly T[] | undefined): readonly T[] =>
  wished ? list.filter((one) => wished.includes(one)) : list;

/** Declares a batch and makes its grafts. Undefined where what is wished for doesn't go together. */
export function bench(nursery: Nursery, year: number, wish: Wish): Batch | undefined {
  const { draw, calendar, season } = nursery;
  const method = draw.pick(chosen(methods, wish.methods));
  const group = draw.pick(chosen(groups, wish.groups));
  const genus = draw.pick(chosen(generaOf(group), wish.genera));
  const detached = !isIn([...buds, ...fedMethods], method);
  const told = wish.told || wish.genera || wish.groups || draw.chance(95);
  const pair = told ? pairOf(draw, group, genus) : undefined;

  const heated = wish.places ? wish.places.every((kind) => kind === 'tent') : !wish.off && draw.chance(25);
  const months = calendar.tropical ? numbersOf(1, 12) : chosen(monthsFor(method, pair, heated, wish.off), wish.months);
  if (months.length === 0) return undefined;
  const month = draw.pick(months);
  const fitting = chosen(placesFor(method, pair?.group, calendar.tropical ? 4 : month), wish.places);
  const kinds = heated ? fitting.filter((kind) => kind === 'tent') : fitting.filter((kind) => kind !== 'tent');
  if (kinds.length === 0) return undefined;
  const kind = draw.pick(kinds);
  const wraps = chosen(wrapsFor(method, kind), wish.wraps);
  if (wraps.length === 0) return undefined;
  const wrap = draw.pick(wraps);
  const place = nursery.place(kind, wish.own ?? draw.chance(50));

  const [from, to] = calendar.monthOf(year, month);
  const first = draw.int(from, to - 8);
  const potted = wish.potted ?? (method !== 'thread' && draw.chance(65));
  const counted = wish.counted ?? (potted && draw.chance(20));
  const sittings = counted ? 1 : (wish.sittings ?? draw.int(1, 3));
  const days = numbersOf(1, sittings).map((one) => (one === 1 ? first : first + draw.int(0, 7)));
  days.sort((a, b) => a - b);
  const sizes = days.map(() => (draw.chance(5) ? draw.int(200, 2000) : draw.int(1, 15)));
  const size = counted ? draw.int(10, 400) : sizes.reduce((sum, one) => sum + one, 0);

  const name = nursery.name(draw.pick(['K', 'B', 'S', 'KT-', 'Käse', 'm']));
  const declaration: Line = { verb: 'batch', target: name, facts: [] };
  const batch: Batch = {
    ...{ name, method, pair, wrap, potted, counted, size, place, declaration },
    ...{ trees: [], grafts: [], lost: new Map(), first, last: days[days.length - 1] ?? first },
  };
  declaration.batch = batch;
  nursery.add(declaration);
  if (place.own && !calendar.tropical && kind !== 'tent' && draw.chance(60)) coverLater(nursery, place, first);

  const lot = pair && (wish.lot ?? (detached && draw.chance(40))) ? collected(nursery, batch, first) : undefined;
  const trees = potted ? [] : planted(nursery, batch, draw.int(1, 3));
  Object.assign(batch, { trees, ...(lot ? { collect: lot } : {}) });
  const facts = [...benchFacts(draw, { ...batch, recordsCuts: season.recordsCuts }), ...wrapTexts(draw, wrap)];
  graft(nursery, batch, { days, sizes, facts, lot: lot?.target as string | undefined, told: wish.told === true });
  return batch;
}

interface Sittings {
  readonly days: readonly Day[];
  readonly sizes: readonly number[];
  readonly facts: readonly Fact[];
  readonly lot: string | undefined;
  readonly told: boolean;
}

/** Facts stand on the batch or on each graft line; the plants on the batch, or with their lot and tree. */
function graft(nursery: Nursery, batch: Batch, { days, sizes, facts, lot, told }: Sittings): void {
  const { draw } = nursery;
  const { declaration, pair, potted, place, trees } = batch;
  const onBatch = (key: string): boolean => {
    const wraps = ['film', 'bag', 'wax', 'tie'].includes(key);
    return !['text', 'branch', 'side', 'out'].includes(key) && draw.chance(wraps ? 85 : 30);
  };
  const carried = facts.filter(({ key }) => onBatch(key));
  const own = facts.filter((one) => !carried.includes(one));
  const byNames = !told && lot !== undefined && trees.length > 0 && draw.chance(40);
  if (pair && !byNames) declaration.facts.push(fact('taxa', taxaText(draw, pair)));
  declaration.facts.push(fact('method', batch.method), ...carried);
  if (potted) declaration.facts.push(fact('in', `in ${place.name}`));
  if (lot && !byNames && draw.chance(60)) declaration.facts.push(fact('lot', `lot ${lot}`));
  const lotHere = lot && !declaration.facts.some(({ key }) => key === 'lot') ? [fact('lot', `lot ${lot}`)] : [];
  if (isSide(batch.method) && !batch.counted && draw.chance(10)) {
    // The stock is prepared before, or on the day.
    const numbers = numbersOf(1, sizes[0] ?? 1);
    nursery.work('headback', batch, batch.first - draw.int(0, 20), [fact('share', '1/3')], numbers);
  }
  let number = 1;
  days.forEach((day, index) => {
    const numbers = numbersOf(number, number + (sizes[index] ?? 1) - 1);
    number += numbers.length;
    const tree = trees[index % trees.length];
    const line: Line = {
      ...{ verb: 'graft', day, batch },
      target: batch.counted ? batch.name : { batch, numbers },
      facts: [
        ...(batch.counted ? [fact('count', `x${batch.size}`)] : []),
        ...(tree ? [fact('onto', `onto ${tree}`)] : []),
        ...lotHere,
        ...own,
      ],
    };
    batch.grafts.push(nursery.add(line));
  });
}

function planted(nursery: Nursery, batch: Batch, count: number): string[] {
  const { draw } = nursery;
  return numbersOf(1, count).map(() => {
    const name = nursery.name('T');
    const carried = draw.chance(25);
    const { place } = batch;
    const at = carried ? nursery.place('yard', false) : place;
    const plant = batch.pair ? [fact('taxa', batch.pair.under)] : [];
    nursery.declare('tree', name, [...plant, fact('in', `in ${at.name}`)], batch);
    if (carried && at !== place)
      nursery.workAt('move', name, batch.first - draw.int(1, 10), [fact('to', `to ${place.name}`)], batch);
    return name;
  });
}

/** Wood for the batch, from cold store, no older than it keeps: the `stored` lines of `practice.graft`. */
function collected(nursery: Nursery, batch: Batch, first: Day): Line {
  const { draw, calendar } = nursery;
  const { last, pair } = batch;
  const broadleaf = pair?.group === 'broadleaf';
  const frozen = !broadleaf && draw.chance(15);
  let day = Math.min(first, last - draw.int(0, frozen ? 120 : broadleaf ? 60 : 42));
  const month = calendar.month(day);
  const growing = month >= 6 && month <= 8;
  if (!broadleaf && growing) day = Math.max(day, last - 7);
  const store = frozen || draw.chance(70) ? [fact('in', `in ${cold(nursery, frozen && !growing)}`)] : [];
  const name = nursery.name('L');
  const wood = draw.chance(50) ? [fact('wood', 'ripened')] : [];
  const count = fact('count', `x${batch.size + draw.int(0, 40)}`);
  return nursery.workAt('collect', name, day, [fact('taxa', pair?.scion ?? ''), count, ...wood, ...store], batch);
}

function cold(nursery: Nursery, frozen: boolean): string {
  const name = frozen ? 'freezer' : 'fridge';
  const known = nursery.season.lines.some((line) => line.verb === 'place' && line.target === name);
  const at = frozen ? -nursery.draw.int(2, 5) : nursery.draw.int(0, 5);
  if (!known) nursery.declare('place', name, [fact('at', `at ${at}C`)]);
  return name;
}
