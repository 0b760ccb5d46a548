/** How a cell of the column is read. */
type Reading =
  | 'day'
  | 'batch'
  | 'graft'
  | 'count'
  | 'plant'
  | 'name'
  | 'hands'
  | 'outcome'
  | 'cause'
  | 'share'
  | 'event'
  | 'figure'
  | 'choice'
  | 'text'
  | 'flag'
  | 'remark';

interface FactShape {
  readonly reading: Reading;
  /** What the column is taken for, as the preview says it. */
  readonly is: string;
  /** Plain words for it, the likeliest first; compared as `headerKey` writes them. */
  readonly also: readonly string[];
}

const event = (is: string, also: readonly string[]): FactShape => ({ reading: 'event', is, also });
const figure = (is: string, also: readonly string[]): FactShape => ({ reading: 'figure', is, also });
const text = (is: string, also: readonly string[]): FactShape => ({ reading: 'text', is, also });

/** What a column can be, and the words headers use for it. Facts of the notation keep its name. */
export const facts = {
  date: {
    reading: 'day',
    is: 'the day the grafts were made',
    also: [
      ...[
        'date grafted',
        'graft date',
        'grafting date',
        'grafted on',
        'date of graft',
        'date of grafting',
        'day grafted',
      ],
      ...['grafting day', 'date made', 'made on', 'date', 'day', 'when', 'grafted'],
    ],
  },
  batch: {
    reading: 'batch',
    is: 'the batch',
    also: [
      'batch name',
      'batch code',
      'batch id',
      'batch no',
      'batch number',
      'batch',
      'series',
      'group',
      'tray',
      'job',
    ],
  },
  graft: {
    reading: 'graft',
    is: 'the graft’s number',
    also: [
      ...['graft no', 'graft number', 'graft id', 'graft code', 'graft tag', 'tag', 'tag no', 'tag number', 'plant no'],
      ...['plant number', 'plant id', 'label no', 'label number', 'graft', 'id', 'serial', 'serial no'],
    ],
  },
  count: {
    reading: 'count',
    is: 'how many were made',
    also: [
      ...['number grafted', 'number made', 'number of grafts', 'no of grafts', 'count', 'how many', 'quantity', 'qty'],
      ...['grafts made', 'grafts', 'made', 'total', 'pieces', 'pcs', 'done', 'amount'],
    ],
  },
  plant: {
    reading: 'plant',
    is: 'the scion’s plant',
    also: [
      ...['scion plant', 'scion species', 'scion name', 'scion taxon', 'scion variety', 'species', 'botanical name'],
      ...['latin name', 'scientific name', 'taxon', 'plant', 'plant name', 'variety grafted'],
    ],
  },
  genus: { reading: 'plant', is: 'the scion’s genus', also: ['scion genus', 'genus'] },
  cultivar: {
    reading: 'plant',
    is: 'the scion’s cultivar',
    also: ['scion cultivar', 'cultivar', 'cultivar name', 'variety', 'clone', 'selection', 'form'],
  },
  understock: {
    reading: 'plant',
    is: 'the understock’s plant',
    also: [
      ...['understock plant', 'understock species', 'rootstock species', 'rootstock plant', 'rootstock name'],
      ...['stock species', 'stock plant', 'root stock species', 'stock taxon'],
    ],
  },
  pair: {
    reading: 'plant',
    is: 'scion / understock',
    also: ['pair', 'combination', 'combo', 'graft combination', 'scion rootstock', 'scion understock', 'scion stock'],
  },
  method: {
    reading: 'choice',
    is: 'the method',
    also: ['graft method', 'grafting method', 'method', 'graft type', 'type of graft', 'technique', 'type', 'style'],
  },
  in: {
    reading: 'name',
    is: 'the place',
    also: ['place', 'location', 'where', 'bench', 'house', 'greenhouse', 'frame', 'stands in', 'site', 'position'],
  },
  onto: {
    reading: 'name',
    is: 'the tree grafted on',
    also: ['stock tree', 'grafted onto', 'onto', 'host tree', 'host', 'recipient tree', 'tree grafted'],
  },
  from: {
    reading: 'name',
    is: 'the tree that gave the scion',
    also: [
      'scion source',
      'scion tree',
      'scion from',
      'mother tree',
      'mother plant',
      'donor',
      'donor tree',
      'source tree',
    ],
  },
  by: {
    reading: 'hands',
    is: 'whose hands',
    also: [
      'hand',
      'hands',
      'grafter',
      'grafted by',
      'by',
      'who',
      'made by',
      'done by',
      'who did it',
      'worker',
      'initials',
      'operator',
      'propagator',
    ],
  },
  take: {
    reading: 'outcome',
    is: 'whether it took',
    also: [
      ...[
        'number taken',
        'no taken',
        'taken',
        'take',
        'took',
        'takes',
        'successful',
        'success',
        'successes',
        'survived',
      ],
      ...['survival', 'alive', 'living', 'live', 'result', 'outcome', 'status', 'success y n', 'take y n', 'ok'],
    ],
  },
  fail: {
    reading: 'outcome',
    is: 'whether it was lost',
    also: [
      'number failed',
      'number lost',
      'failed',
      'fail',
      'fails',
      'failures',
      'lost',
      'losses',
      'loss',
      'dead',
      'died',
    ],
  },
  'take-day': {
    reading: 'day',
    is: 'the day it took',
    also: ['date taken', 'take date', 'taken on', 'date of take', 'took on', 'success date'],
  },
  'fail-day': {
    reading: 'day',
    is: 'the day it was lost',
    also: ['date failed', 'fail date', 'failed on', 'date lost', 'lost on', 'date died', 'died on', 'date of death'],
  },
  judged: {
    reading: 'day',
    is: 'the day it was judged',
    also: [
      ...['date judged', 'judged on', 'judged', 'assessed', 'date assessed', 'checked', 'check date', 'date checked'],
      ...['evaluated', 'date evaluated', 'inspection date', 'result date', 'scored', 'date scored', 'counted on'],
    ],
  },
  'take-share': {
    reading: 'share',
    is: 'the share that took',
    also: [
      'take rate',
      'success rate',
      'take percent',
      'percent take',
      'percent taken',
      'percent success',
      'survival rate',
    ],
  },
  cause: {
    reading: 'cause',
    is: 'why it was lost',
    also: [
      ...[
        'cause of loss',
        'cause of death',
        'cause of failure',
        'reason of failure',
        'failure reason',
        'reason for failure',
      ],
      ...['reason', 'cause', 'why', 'why lost', 'why failed', 'problem'],
    ],
  },
  swell: event('the day its buds swelled', [
    'date swelled',
    'bud swell',
    'swell',
    'swelled',
    'swelling',
    'bud break',
    'budbreak',
  ]),
  free: event('the day its bud was free', ['date freed', 'freed', 'free', 'unwrapped', 'date unwrapped']),
  untie: event('the day its tie came off', [
    'date untied',
    'untied',
    'untie',
    'tie off',
    'tie removed',
    'released',
    'release date',
  ]),
  sever: event('the day it was severed', ['date severed', 'severed', 'sever', 'separated', 'date separated']),
  sell: event('the day it left', [
    'date sold',
    'sold',
    'sold on',
    'sale date',
    'shipped',
    'date shipped',
    'planted out',
  ]),
  cut: figure('how deep the cut went', ['cut depth', 'depth of cut', 'cut', 'depth', 'cut percent']),
  stock: figure('the understock’s diameter', [
    ...['understock diameter', 'rootstock diameter', 'stock diameter', 'stock caliper', 'rootstock caliper', 'caliper'],
    ...['calliper', 'stock size', 'rootstock size', 'understock size', 'stock thickness', 'rootstock thickness'],
  ]),
  scion: figure('the scion’s size', ['scion size', 'scion dimension', 'scion thickness x length']),
  'scion-thick': figure('the scion’s thickness', ['scion thickness', 'scion diameter', 'scion caliper', 'scion width']),
  'scion-length': figure('the scion’s length', ['scion length', 'length of scion', 'length']),
  long: figure('the long face', ['long face', 'long cut', 'long', 'cut length', 'length of cut', 'face length']),
  short: figure('the short face', ['short face', 'short cut', 'short']),
  out: figure('how far out', ['distance from trunk', 'out', 'distance out', 'distance']),
  whorls: figure('rings of needles left', ['whorls', 'needle whorls', 'whorls left']),
  film: figure('the film', ['film', 'wrap', 'film width', 'wrap width', 'wrapping']),
  bag: figure('the bag', ['bag', 'bagged']),
  unpruned: figure('how long the wood was unpruned', ['unpruned', 'wood age', 'age of wood', 'scion age']),
  side: { reading: 'choice', is: 'the side of the branch', also: ['side', 'side of branch'] },
  wood: { reading: 'choice', is: 'the scion’s wood', also: ['wood', 'scion wood', 'wood type', 'ripeness'] },
  match: { reading: 'choice', is: 'the edges that meet', also: ['cambium match', 'match', 'cambium', 'edges matched'] },
  tie: text('what binds it', [
    'tie',
    'tied with',
    'tie material',
    'tying',
    'tying material',
    'binding',
    'bound with',
    'band',
  ]),
  wax: text('the wax', ['wax', 'waxed', 'sealed with', 'sealant', 'seal']),
  label: text('a mark to compare by', ['label', 'treatment', 'trial', 'colour', 'color', 'mark']),
  branch: text('which branch', ['branch', 'branch grafted', 'limb']),
  bleeding: { reading: 'flag', is: 'bleeding', also: ['bleeding', 'stock bleeding'] },
  reset: { reading: 'flag', is: 'scion moved after it was set', also: ['reset'] },
  remark: {
    reading: 'remark',
    is: 'remark',
    also: [
      'remark',
      'remarks',
      'note',
      'notes',
      'comment',
      'comments',
      'observation',
      'observations',
      'memo',
      'details',
    ],
  },
} as const satisfies Record<string, FactShape>;

export type FactName = keyof typeof facts;
export const factNames = Object.keys(facts) as FactName[];
export const isFactName = (word: string): word is FactName => Object.hasOwn(facts, word);
export const factRow = (fact: FactName): FactShape => facts[fact];
