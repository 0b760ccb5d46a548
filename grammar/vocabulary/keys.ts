/** How a key's value reads (`forms.ts`). */
export type ValueForm =
  | 'flag'
  | 'length'
  | 'share'
  | 'depth'
  | 'temperature'
  | 'duration'
  | 'count'
  | 'number'
  | 'stage'
  | 'size'
  | 'choice'
  | 'name'
  | 'names'
  | 'hands'
  | 'code'
  | 'text'
  | 'amount'
  | 'zone'
  | 'ratio'
  | 'year'
  | 'dates'
  | 'work'
  | 'events'
  | 'covers'
  | 'task'
  | 'yearday';

interface KeyShape {
  readonly value: ValueForm;
  readonly help: string;
  readonly example: string;
  /** Plausible, in the model's units (mm, share, °C, days); beyond it is a slip. */
  readonly plausible?: readonly [number, number];
  /** Where it has a second measure: a depth in mm beside its share, a thickness beside its length. */
  readonly plausibleBeside?: readonly [number, number];
  readonly choices?: readonly string[];
  /** Its choices stand without the key: `under`, `dried`, `cleft`. */
  readonly keyless?: true;
  /** The key may stand alone: `film`, `tie`. */
  readonly optional?: true;
  readonly repeats?: true;
  /** What a name must be. */
  readonly of?: 'place' | 'tree' | 'lot' | 'batch';
  /** Another form with this verb. */
  readonly with?: Readonly<
    Record<string, { readonly value: ValueForm; readonly plausible?: readonly [number, number] }>
  >;
  readonly also?: readonly string[];
  /** Takes an interval with open ends in a practice line; `good` says which side is meant. */
  readonly limit?: true;
}

export const methods = [
  'side-veneer',
  'side',
  'cleft',
  'whip',
  'whip-and-tongue',
  'saddle',
  'splice',
  'bark',
  'approach',
  'thread',
  'chip-bud',
  't-bud',
] as const;
export type Method = (typeof methods)[number];
export const groups = ['needle', 'scale', 'shedding', 'broadleaf'] as const;
export const months = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'] as const;
export const seasons = ['spring', 'summer', 'autumn', 'winter'] as const;
export const coverFlags = ['frost-free', 'shade', 'wind-break', 'humid'] as const;
export const checkFlags = [
  'plump',
  'green',
  'callus',
  'dry',
  'mould',
  'wet',
  'loose',
  'biting',
  'broken',
  'suckers',
] as const;
export const causes = [
  'frozen',
  'dried',
  'rotted',
  'moved',
  'broken',
  'girdled',
  'rejected',
  'pest',
  'stock',
  'unknown',
] as const;
export const workWords = [
  'look',
  'watch',
  'cover',
  'shade',
  'open',
  'judge',
  'take',
  'tie',
  'headback',
  'untie',
  'suckers',
  'sever',
  'again',
] as const;
/** Beside verbs, works and flags of `check`. */
export const eventWords = ['word', 'growth', 'first-swell', 'first-open', 'frost'] as const;

const flag = (help: string, example: string, also?: readonly string[]) => ({
  value: 'flag' as const,
  help,
  example,
  ...(also ? { also } : {}),
});

export const keys = {
  // --- the graft
  cut: {
    value: 'depth',
    plausible: [0.02, 0.95],
    plausibleBeside: [0.3, 40],
    limit: true,
    help: 'How deep the cut goes into the branch or stem: a share of its diameter, or a length beside `stock`.',
    example: 'cut 40%',
  },
  stock: {
    value: 'length',
    plausible: [2, 150],
    help: 'The understock’s diameter at the cut.',
    example: 'stock 9mm',
    also: ['rootstock', 'understock', 'caliper', 'calliper'],
  },
  scion: {
    value: 'size',
    plausible: [10, 400],
    plausibleBeside: [1, 25],
    limit: true,
    help: 'The scion: thickness x length, or its length alone.',
    example: 'scion 4mm x 90mm',
  },
  long: {
    value: 'length',
    plausible: [4, 120],
    limit: true,
    help: 'The long face of the scion’s cut.',
    example: 'long 30mm',
  },
  short: {
    value: 'length',
    plausible: [1, 60],
    limit: true,
    with: { practice: { value: 'share' } },
    help: 'The short face on the other side.',
    example: 'short 8mm',
  },
  out: {
    value: 'length',
    plausible: [0, 1500],
    limit: true,
    help: 'How far out from trunk or fork.',
    example: 'out 4cm',
  },
  whorls: {
    value: 'count',
    plausible: [0, 12],
    limit: true,
    help: 'Rings of needles left on the scion.',
    example: 'whorls 2',
  },
  film: {
    value: 'length',
    optional: true,
    plausible: [8, 120],
    limit: true,
    help: 'Wrapped in film, and how wide it is.',
    example: 'film 38mm',
    also: ['wrap'],
  },
  bag: { value: 'length', optional: true, plausible: [8, 120], help: 'Under a bag.', example: 'bag' },
  tie: { value: 'text', optional: true, help: 'What binds the union.', example: 'tie rubber' },
  wax: { value: 'text', optional: true, help: 'Waxed, and with what.', example: 'wax' },
  label: { value: 'text', help: 'A mark to compare by.', example: 'label red' },
  branch: { value: 'text', help: 'Which branch of the tree.', example: 'branch "3rd left"' },
  side: {
    value: 'choice',
    choices: ['under', 'left', 'right', 'top'],
    keyless: true,
    help: 'Where on the branch it sits.',
    example: 'under',
  },
  wood: {
    value: 'choice',
    choices: ['ripened', 'soft', 'old'],
    keyless: true,
    help: 'The scion’s wood.',
    example: 'ripened',
  },
  match: {
    value: 'choice',
    choices: ['both', 'one', 'none'],
    help: 'How many edges of the cambium meet.',
    example: 'match one',
  },
  unpruned: {
    value: 'duration',
    plausible: [7, 7305],
    limit: true,
    help: 'How long the shoot grew without being cut back.',
    example: 'unpruned 1y',
  },
  method: {
    value: 'choice',
    choices: methods,
    keyless: true,
    help: 'How the scion is joined.',
    example: 'side-veneer',
  },
  reset: flag('The scion was moved after it was set.', 'reset'),
  bleeding: flag('The understock bled that day.', 'bleeding'),
  asleep: flag('The understock was dormant that day.', 'asleep'),
  active: flag('The understock had woken that day.', 'active'),
  onto: { value: 'name', of: 'tree', help: 'The tree grafted on.', example: 'onto T14' },
  from: { value: 'names', of: 'tree', help: 'The tree or trees the wood came from.', example: 'from T3' },
  lot: { value: 'name', of: 'lot', help: 'The lot of scion wood.', example: 'lot L7' },
  in: { value: 'name', of: 'place', help: 'The place it stands in.', example: 'in frame' },
  to: { value: 'name', of: 'place', with: { sell: { value: 'text' } }, help: 'Where to.', example: 'to frame' },
  like: {
    value: 'name',
    of: 'batch',
    help: 'Takes another batch’s plants, method, place and bench facts over.',
    example: 'like K26',
  },
  // --- places
  'frost-free': flag('Nothing freezes there.', 'frost-free', ['frostfree']),
  shade: flag('Shaded from the sun.', 'shade'),
  'wind-break': flag('Out of the wind.', 'wind-break', ['windbreak']),
  humid: flag('Damp air, which stands for a wrap.', 'humid'),
  heated: flag('Heated; so it is frost-free, too.', 'heated'),
  mist: flag('Under mist; so it is humid, too.', 'mist'),
  at: { value: 'temperature', plausible: [-60, 60], limit: true, help: 'How warm it is kept.', example: 'at 2C' },
  bottom: { value: 'temperature', plausible: [-60, 60], help: 'Warmth at the roots.', example: 'bottom 18C' },
  capacity: { value: 'count', plausible: [1, 1e7], help: 'How many grafts it holds.', example: 'capacity 400' },
  lat: {
    value: 'number',
    plausible: [-90, 90],
    limit: true,
    help: 'Latitude in degrees, south below zero.',
    example: 'lat 47.90',
  },
  lon: { value: 'number', plausible: [-180, 180], help: 'Longitude in degrees, west below zero.', example: 'lon 8.10' },
  tz: { value: 'zone', help: 'Time zone by its IANA name.', example: 'tz Europe/Berlin' },
  zone: { value: 'zone', help: 'Hardiness zone.', example: 'zone 7b' },
  // --- visits
  plump: flag('Scion plump.', 'plump'),
  green: flag('Scion green.', 'green'),
  callus: flag('Callus seen.', 'callus'),
  dry: flag('Scion shrivelled.', 'dry'),
  mould: flag('Mould under the wrap.', 'mould', ['mold']),
  wet: flag('Water under the wrap.', 'wet'),
  loose: flag('Wrap or tie loose.', 'loose'),
  biting: flag('The tie bites into the bark.', 'biting', ['tight']),
  broken: flag('Something broke.', 'broken'),
  suckers: flag('Shoots from below the union.', 'suckers'),
  bbch: { value: 'stage', plausible: [0, 9], help: 'Bud stage on the BBCH scale, 00 to 09.', example: 'bbch 03' },
  share: { value: 'share', plausible: [0.01, 1], help: 'How far it is now.', example: '20%' },
  amount: { value: 'amount', help: 'How much, as written; the label decides.', example: '' },
  count: { value: 'count', plausible: [1, 999999], help: 'How many scions.', example: 'x60' },
  cause: { value: 'choice', choices: causes, keyless: true, help: 'Why it was lost.', example: 'dried' },
  min: { value: 'temperature', plausible: [-60, 60], help: 'Lowest temperature seen there.', example: 'min 1.5C' },
  max: { value: 'temperature', plausible: [-60, 60], help: 'Highest temperature seen there.', example: 'max 24C' },
  rh: { value: 'share', plausible: [0.01, 1], help: 'Relative humidity.', example: 'rh 95%' },
  by: { value: 'hands', help: 'Whose hands; several joined by commas.', example: 'by mk' },
  photo: { value: 'text', repeats: true, help: 'A picture’s path in the folder.', example: 'photo "2026/k26-12.jpg"' },
  accept: {
    value: 'code',
    repeats: true,
    help: '“I know”: silences a finding on this line.',
    example: 'accept cut-deep',
  },
  offset: {
    value: 'temperature',
    plausible: [-60, 60],
    help: 'How much warmer than the station.',
    example: 'offset 1.5C',
  },
  word: {
    value: 'choice',
    choices: ['good', 'fair', 'poor', 'never'],
    keyless: true,
    help: 'How the pair does.',
    example: 'good',
  },
  source: { value: 'text', help: 'Where it is from.', example: 'source "own record"' },
  // --- practice: limits
  'long-ratio': { value: 'ratio', limit: true, help: 'Long face, in scion diameters.', example: 'long-ratio 5..' },
  'scion-ratio': {
    value: 'ratio',
    limit: true,
    help: 'Scion’s thickness to the stock’s.',
    example: 'scion-ratio ..1.1',
  },
  'match-ratio': {
    value: 'ratio',
    limit: true,
    help: 'Scion’s thickness to the width of the stock’s face.',
    example: 'match-ratio 0.7..1.3',
  },
  stored: { value: 'duration', limit: true, help: 'How long wood may be stored.', example: 'stored ..42d' },
  'stored-at': { value: 'temperature', limit: true, help: 'How warm wood may be stored.', example: 'stored-at ..5C' },
  'open-step': {
    value: 'share',
    limit: true,
    help: 'How much further a step opens the wrap.',
    example: 'open-step 5..10%',
  },
  'open-every': { value: 'duration', limit: true, help: 'Days between steps.', example: 'open-every 10..14d' },
  'open-over': {
    value: 'duration',
    limit: true,
    help: 'Days from the first step to free.',
    example: 'open-over 54..70d',
  },
  'headback-step': {
    value: 'share',
    limit: true,
    help: 'How much a visit may head back.',
    example: 'headback-step 1/3..1/2',
  },
  frost: { value: 'temperature', limit: true, help: 'What is frost to a graft not taken yet.', example: 'frost ..0C' },
  hot: { value: 'temperature', limit: true, help: 'What is too hot under a wrap.', example: 'hot 32C..' },
  silent: {
    value: 'duration',
    limit: true,
    help: 'Longer than this without a line is too long.',
    example: 'silent 60d..3y',
  },
  off: { value: 'year', help: 'When not to graft.', example: 'off jul..mar' },
  // --- practice: work
  work: { value: 'work', help: 'Work that is due after an event.', example: 'work look  after word  wait 7..14d' },
  earliest: {
    value: 'work',
    help: 'Sooner than this after the event is a finding.',
    example: 'earliest take  after graft  wait 42d',
  },
  after: { value: 'events', help: 'The event it counts from.', example: 'after graft' },
  wait: { value: 'dates', help: 'Days on, or days of the year.', example: 'wait 7..14d' },
  till: { value: 'yearday', help: 'The end goes on to the next such day.', example: 'till mar-31' },
  within: { value: 'year', help: 'Only in this part of the year.', example: 'within mar-01..oct-31' },
  certain: { value: 'share', help: 'How sure its frost dates are.', example: 'certain 90%' },
  urgent: flag('Can’t wait: late is overdue.', 'urgent'),
  needs: { value: 'covers', help: 'The shelter asked for.', example: 'needs frost-free' },
  stands: { value: 'duration', help: 'How long what was seen counts.', example: 'stands 14d  after dry' },
  // --- practice: conditions
  size: { value: 'length', limit: true, help: 'Only for scions so thick.', example: 'size 5mm..' },
  made: { value: 'year', help: 'Only for grafts made then.', example: 'made autumn,winter' },
  collected: { value: 'year', help: 'Only for wood cut then.', example: 'collected summer' },
  age: { value: 'duration', limit: true, help: 'Only while the graft is so old.', example: 'age ..42d' },
  potted: flag('Only on potted stems.', 'potted'),
  // --- practice: place and plan
  growth: { value: 'year', help: 'When plants grow.', example: 'growth apr-15..sep-30' },
  'last-frost': { value: 'yearday', help: 'The last spring frost.', example: 'last-frost may-15' },
  'first-frost': { value: 'yearday', help: 'The first autumn frost.', example: 'first-frost oct-01' },
  'degree-base': { value: 'temperature', help: 'Where degree-days begin.', example: 'degree-base 5C' },
  prior: { value: 'share', help: 'What to reckon with before a record of one’s own.', example: 'prior 75%' },
  weight: { value: 'number', help: 'How many grafts that is worth.', example: 'weight 4' },
  task: { value: 'task', repeats: true, help: 'Minutes a graft.', example: 'task open 0.5min' },
  warning: flag('Said as a warning.', 'warning'),
  information: flag('Said as information.', 'information'),
} as const satisfies Record<string, KeyShape>;

export type Key = keyof typeof keys;
export type KeyRow = KeyShape;
