import type { Key } from './keys.ts';

/** What a target can be: sets of grafts, a tree, a place, a lot. */
export type Target = 'graft' | 'tree' | 'place' | 'lot';

interface VerbShape {
  /** A declaration holds for the whole log wherever it stands; work needs a day. */
  readonly kind: 'declaration' | 'work';
  /** How the first operand reads: a new name, a set of grafts made now, one or more sets, scopes of a rule, or nothing. */
  readonly operand: 'name' | 'made' | 'sets' | 'scopes' | 'none';
  readonly acts?: readonly Target[];
  /** May stand without any target: `check` alone is a remark on the day. */
  readonly bare?: true;
  readonly taxa?: true;
  readonly facts: readonly Key[];
  /** A share without a key: how far it is now. `asked` lines without it take no part. */
  readonly share?: 'asked' | 'optional';
  readonly help: string;
  readonly example: string;
  /** Read silently; an action turns them into the verb. */
  readonly also?: readonly string[];
}

const bench = [
  'cut',
  'stock',
  'scion',
  'long',
  'short',
  'out',
  'whorls',
  'film',
  'bag',
  'tie',
  'wax',
  'label',
  'branch',
  'side',
  'wood',
  'match',
  'unpruned',
  'frost-free',
  'shade',
  'wind-break',
  'humid',
  'reset',
  'bleeding',
  'asleep',
  'active',
  'onto',
  'from',
  'lot',
  'in',
  'method',
] as const satisfies readonly Key[];

/** Beside its own, every line of work takes these. */
export const workFacts = ['by', 'photo', 'accept'] as const satisfies readonly Key[];

const cover = ['frost-free', 'shade', 'wind-break', 'humid'] as const satisfies readonly Key[];

export const verbs = {
  site: {
    kind: 'declaration',
    operand: 'name',
    facts: ['lat', 'lon', 'tz', 'zone'],
    help: 'Where the nursery is: its latitude turns the seasons, its time zone says what today is. Once a log.',
    example: 'site Drumlin-Lane  lat 47.90  lon 8.10  tz Europe/Berlin',
  },
  place: {
    kind: 'declaration',
    operand: 'name',
    facts: [...cover, 'heated', 'mist', 'at', 'bottom', 'capacity', 'lat', 'lon'],
    help: 'A spot where grafts, trees or wood stand, and what it gives them.',
    example: 'place frame  frost-free shade wind-break  capacity 400',
  },
  tree: {
    kind: 'declaration',
    operand: 'name',
    taxa: true,
    facts: ['in', 'from'],
    help: 'A tree that gives scions or is grafted on.',
    example: "tree T3  Pinus parviflora 'Tenysu'  in yard",
  },
  batch: {
    kind: 'declaration',
    operand: 'name',
    taxa: true,
    facts: [...bench, 'like', 'by'],
    help: 'Grafts that belong together; what it says holds for each of them until a line says otherwise.',
    example: 'batch K26  Pinus parviflora / P. thunbergii  side-veneer  film 38mm  in frame',
  },
  pair: {
    kind: 'declaration',
    operand: 'none',
    taxa: true,
    facts: ['word', 'source'],
    help: 'The nursery’s own word on a combination.',
    example: 'pair Pinus parviflora / Pinus thunbergii  good  source "own record"',
  },
  practice: {
    kind: 'declaration',
    operand: 'scopes',
    acts: ['graft'],
    taxa: true,
    facts: [],
    help: 'A threshold or a piece of work, for whom it is named; the closest line wins.',
    example: 'practice side-veneer  cut 30..50%  source "own habit"',
  },
  accept: {
    kind: 'declaration',
    operand: 'scopes',
    acts: ['graft', 'place', 'tree'],
    taxa: true,
    facts: [],
    help: 'Says “I know”: silences the named findings for this set, place, plant or the whole log.',
    example: 'accept side-top  B26.3  "the only live bark there"',
  },
  weather: {
    kind: 'declaration',
    operand: 'none',
    facts: ['in', 'offset'],
    help: 'A station’s daily minima and maxima, from a CSV file in the folder: columns DATE with TMIN, TMAX in tenths of a degree, or temp_min, temp_max in °C.',
    example: 'weather "station.csv"  in yard',
  },
  collect: {
    kind: 'work',
    operand: 'name',
    acts: ['lot'],
    taxa: true,
    facts: ['from', 'wood', 'unpruned', 'scion', 'in', 'at', 'count'],
    help: 'Scion wood cut; the lot keeps its day, its tree and where it is stored.',
    example: "collect L7  Pinus parviflora 'Tenysu'  x60  ripened  from T3  in fridge",
  },
  graft: {
    kind: 'work',
    operand: 'made',
    acts: ['graft'],
    taxa: true,
    facts: bench,
    help: 'Grafts made, by number or by count.',
    example: 'graft K26.1..11  cut 40%  scion 4mm x 90mm  whorls 2',
    also: ['grafted'],
  },
  move: {
    kind: 'work',
    operand: 'sets',
    acts: ['graft', 'tree', 'lot'],
    facts: ['to', 'at'],
    help: 'To another place; the cover there goes with it.',
    example: 'move S27 to frame',
    also: ['moved', 'store'],
  },
  cover: {
    kind: 'work',
    operand: 'sets',
    acts: ['graft', 'tree', 'place'],
    facts: cover,
    help: 'Fleece, shade cloth, foil put on.',
    example: 'cover frame  frost-free',
  },
  uncover: {
    kind: 'work',
    operand: 'sets',
    acts: ['graft', 'tree', 'place'],
    facts: cover,
    help: 'Taken off; alone it takes off all.',
    example: 'uncover frame  frost-free',
  },
  check: {
    kind: 'work',
    operand: 'sets',
    bare: true,
    acts: ['graft', 'tree', 'place', 'lot'],
    facts: ['plump', 'green', 'callus', 'dry', 'mould', 'wet', 'loose', 'biting', 'broken', 'suckers'],
    help: 'Looked at, and what was seen.',
    example: 'check K26.4  dry',
    also: ['note', 'checked', 'look', 'looked'],
  },
  swell: {
    kind: 'work',
    operand: 'sets',
    acts: ['graft'],
    facts: ['bbch'],
    help: 'Buds seen swelling: the opening begins.',
    example: 'swell K26',
  },
  open: {
    kind: 'work',
    operand: 'sets',
    acts: ['graft', 'place'],
    facts: ['share'],
    share: 'asked',
    help: 'How much of the wrap is open after this visit.',
    example: 'open K26.1..11  20%',
    also: ['opened', 'vent', 'unwrap'],
  },
  free: {
    kind: 'work',
    operand: 'sets',
    acts: ['graft'],
    facts: [],
    help: 'The bud is out of the wrap; the union stays bound.',
    example: 'free K26',
  },
  rewrap: {
    kind: 'work',
    operand: 'sets',
    acts: ['graft'],
    facts: ['film', 'bag'],
    help: 'Covered again; the share open goes back to nothing.',
    example: 'rewrap K26.4  film 38mm',
  },
  retie: {
    kind: 'work',
    operand: 'sets',
    acts: ['graft'],
    facts: ['tie', 'film', 'bag'],
    help: 'The binding at the union renewed, looser.',
    example: 'retie K26  tie raffia',
    also: ['rebind'],
  },
  untie: {
    kind: 'work',
    operand: 'sets',
    acts: ['graft'],
    facts: ['tie'],
    help: 'The binding at the union taken off.',
    example: 'untie K26',
    also: ['release', 'untied'],
  },
  headback: {
    kind: 'work',
    operand: 'sets',
    acts: ['graft'],
    facts: ['share'],
    share: 'asked',
    help: 'How much of the understock, or of the branch beyond, is gone by now.',
    example: 'headback K26  1/3',
    also: ['head-back', 'cutback', 'cut-back'],
  },
  sever: {
    kind: 'work',
    operand: 'sets',
    acts: ['graft'],
    facts: ['share'],
    share: 'optional',
    help: 'An approach or thread graft cut from what fed it; no share means through.',
    example: 'sever M27',
  },
  feed: {
    kind: 'work',
    operand: 'sets',
    acts: ['graft', 'tree', 'place'],
    facts: ['amount'],
    help: 'Fed. Follow the product’s label.',
    example: 'feed frame "fish"',
  },
  water: {
    kind: 'work',
    operand: 'sets',
    acts: ['graft', 'tree', 'place'],
    facts: ['amount'],
    help: 'Watered.',
    example: 'water frame',
  },
  treat: {
    kind: 'work',
    operand: 'sets',
    acts: ['graft', 'tree', 'place'],
    facts: ['amount'],
    help: 'Sprayed or dressed. The label and the local rules hold; where a licence is asked, the holder of one does it.',
    example: 'treat frame "as the label says"',
  },
  take: {
    kind: 'work',
    operand: 'sets',
    acts: ['graft'],
    facts: [],
    help: 'Judged that day: grown together.',
    example: 'take K26',
    also: ['taken', 'took'],
  },
  fail: {
    kind: 'work',
    operand: 'sets',
    acts: ['graft', 'tree'],
    facts: ['cause'],
    help: 'Lost, and why if it is known.',
    example: 'fail K26.10,11  dried',
    also: ['failed', 'died', 'lose', 'lost'],
  },
  sell: {
    kind: 'work',
    operand: 'sets',
    acts: ['graft', 'tree'],
    facts: ['to'],
    help: 'Left our hands: sold, given, planted out. Judging may go on.',
    example: 'sell S27 to "garden centre"',
    also: ['sold', 'give', 'ship', 'plant-out'],
  },
  reading: {
    kind: 'work',
    operand: 'sets',
    acts: ['place'],
    facts: ['min', 'max', 'rh'],
    help: 'What the thermometer there showed.',
    example: 'reading frame  min 1.5C',
  },
} as const satisfies Record<string, VerbShape>;

export type Verb = keyof typeof verbs;
export type VerbRow = VerbShape;
