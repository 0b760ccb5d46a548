import fc from 'fast-check';
import { anyLine } from './lines.ts';

const pick = <T>(...values: T[]) => fc.constantFrom(...values);
const names = pick('K26', 'k26', 'B26', 'S27', 'frame', 'yard', 'T3', 'T5', 'L7', 'nowhere');
const sets = pick(
  'K26',
  'B26',
  'S27',
  'K26.1..6',
  'K26.4',
  'K26.2,5,9',
  'K26.7..12',
  'K26.3..20',
  'B26.1..8',
  'B26.3',
  'K26 rest',
  'K26.1..6 rest',
  'K26 except K26.2,3',
  'K26 x3',
  'K26.1..6 x2',
  'K26.1..6 x6',
  'S27 x4',
  'S27 x40',
  'S27 rest',
  'K26 B26',
  'K26 K26.3',
  'T3',
  'frame',
);
const declaration = pick(
  'site Drumlin-Lane lat 47.9',
  'place frame frost-free shade',
  'place yard',
  'tree T3 Pinus mugo in yard',
  'tree T5 Abies koreana in frame',
  'batch K26 Pinus mugo / Pinus sylvestris side-veneer in frame film 38mm',
  'batch B26 like K26 onto T3',
  'batch B26 Pinus mugo',
  'batch K26 like B26',
  'batch S27 Pinus mugo lot L7',
  'accept side-top K26.3',
  'practice K26.2..5 cut 20..60%',
  'pair Pinus mugo / Pinus nigra good',
);
const graft = pick(
  'graft K26.1..6 cut 40%',
  'graft K26.7..12 in yard',
  'graft K26.5..8',
  'graft K26.20 onto T3',
  'graft B26.1..4',
  'graft B26.5 onto T5 in frame',
  'graft S27 x10',
  'graft S27 x5 by mk',
  'graft S27.1..3',
  'graft K26 x3',
  'collect L7 Picea abies',
  'collect L7 from T3 in frame',
);
const work = fc.oneof(
  fc
    .tuple(
      pick(
        'swell',
        'open',
        'open',
        'free',
        'rewrap',
        'retie',
        'untie',
        'headback',
        'sever',
        'take',
        'fail',
        'sell',
        'check',
        'move',
        'cover',
        'uncover',
        'water',
      ),
      sets,
      pick('', '10%', '20%', '1/3', '2/3', '10..30%', 'to yard', 'to frame', 'frost-free', 'dried', 'dry', '"text"'),
    )
    .map((parts) => parts.join(' ')),
  fc
    .tuple(
      pick('take', 'take', 'fail', 'sell', 'open'),
      pick('K26', 'K26.1..6', 'K26.3..10', 'S27', 'B26'),
      pick('x1', 'x2', 'x3', 'x5', 'rest'),
      pick('', '20%'),
    )
    .map((parts) => parts.join(' ')),
  pick('reading frame min -1C', 'reading yard min 2C', 'move T3 to frame', 'fail T3', 'sell T5', 'check frame mould'),
);
const date = pick(
  '',
  '',
  '2026-10-09 ',
  '2026-10-09 14:30 ',
  '2027-03-20 ',
  '2027-04-01 ',
  '2027-04-12 ',
  '2027-06-30 ',
  '2027-10-01 ',
  '2028-03-01 ',
);
const dayLine = pick('2026-10-09', '2027-03-20', '2027-04-12', '2027-10-01', '2026-02-30', '15:00', '2025-01-01');

const made = pick('2026-10-09 ', '2026-10-09 ', '2026-10-20 ', '2027-03-20 ');
const head = fc.subarray(
  [
    'place frame frost-free shade',
    'place yard',
    'tree T3 Pinus mugo in yard',
    'tree T5 Pinus mugo in frame',
    'batch K26 Pinus mugo / Pinus sylvestris side-veneer in frame film 38mm',
    'batch B26 like K26 onto T3',
    'batch S27 Pinus mugo lot L7',
    '2026-09-28 collect L7 Pinus mugo',
    '2026-10-09 graft K26.1..6 cut 40%',
    '2026-10-09 graft K26.7..20',
    '2026-10-09 graft B26.1..8',
    '2026-10-09 graft S27 x10',
  ],
  { minLength: 9 },
);

/** Lines of a nursery that does all sorts of things in all sorts of order, right ones and impossible ones. */
export const workLine = fc.oneof(
  { weight: 1, arbitrary: declaration },
  { weight: 1, arbitrary: fc.tuple(made, graft).map((parts) => parts.join('')) },
  { weight: 12, arbitrary: fc.tuple(date, work).map((parts) => parts.join('')) },
  { weight: 1, arbitrary: dayLine },
  {
    weight: 1,
    arbitrary: fc.oneof(
      anyLine,
      pick('', '# a remark'),
      names.map((name) => `check ${name}`),
    ),
  },
);

/** Most of what a log needs is there; then work, some of it impossible. */
export const workLog = fc
  .tuple(head, fc.array(workLine, { maxLength: 25, size: 'max' }))
  .map(([first, lines]) => [...first, ...lines].join('\n'));
