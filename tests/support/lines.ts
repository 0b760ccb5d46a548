import fc from 'fast-check';
import { allKeys, allVerbs, keyRow } from '#grammar/vocabulary.ts';

const names = fc.constantFrom('K26', 'B26', 'S27', 'M-1', 'frame', 'T14', 'L7', 'Käse');
const sets = fc.constantFrom(
  'K26.1..12',
  'K26.1-12, 14',
  'K26.12..3',
  'K26.4',
  'B26.1,2',
  'K26 x4',
  'K26 rest',
  'K26 except K26.3',
  'K26',
  'B26  K26',
  'S27.5..40 x3',
  'X9.1',
);
const values = fc.constantFrom(
  '40%',
  '40 %',
  '1,5mm',
  '3/16in',
  '1 1/4in',
  '30..50%',
  '50-30%',
  '4 x 90mm',
  '4mmx90mm',
  '4..5mm x 80..110mm',
  '2',
  '12"',
  '-1.5C',
  '30F',
  '1y',
  '10mo',
  '1/3',
  '7..14d',
  '..42d',
  '5..',
  'jul..mar',
  'mar-1..may-15',
  'summer,winter',
  'x60',
  '47.9',
  'Europe/Berlin',
  '"a text"',
  '"open',
);
const dates = fc.constantFrom('2026-10-09', '2026-2-1', '2026-02-30', '9.10.2026', '2026-10-09 8:30', '14:00', '');
const taxa = fc.constantFrom(
  "Pinus parviflora 'Tenysu' / P. thunbergii",
  'Acer palmatum',
  "Abies koreana 'Horstmann's Silberlocke'",
  '× Cuprocyparis leylandii',
  "Malus 'M9",
  'P. mugo',
);
const fact = fc.oneof(
  fc.tuple(fc.constantFrom(...allKeys), values).map(([key, value]) => `${key} ${value}`),
  fc.constantFrom(...allKeys).map((key) => keyRow(key).example || key),
  fc.constantFrom(
    'under',
    'left',
    'dried',
    'ripened',
    'side veneer',
    'cleft',
    'frost free',
    'plump',
    'urgent',
    'none',
    'detached',
    'any',
    'needle,scale',
    'by mk, jo',
  ),
  taxa,
  values,
  names,
  sets,
);
const separator = fc.constantFrom(' ', '  ', ', ', '; ', '\t', ': ');
const comment = fc.constantFrom('', '  # remark', '#x', ' # "quoted" \'');

/** Lines as hands write them, and nearly so: right words in odd places. */
const nearLine = fc
  .tuple(
    dates,
    fc.constantFrom(...allVerbs, 'Open', 'vent', 'tkae'),
    fc.oneof(sets, names),
    fc.array(fc.tuple(separator, fact), { maxLength: 5 }),
    comment,
  )
  .map(
    ([date, verb, target, facts, tail]) =>
      `${date}${date ? '  ' : ''}${verb} ${target}${facts.map(([gap, text]) => gap + text).join('')}${tail}`,
  );

/** A line of a log, or of anything else: near lines, free text, and stray units of UTF-16. */
export const anyLine = fc.oneof(
  { weight: 6, arbitrary: nearLine },
  { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 60 }) },
  { weight: 1, arbitrary: fc.string({ unit: 'grapheme', maxLength: 60 }) },
);

export const anyLog = fc
  .array(fc.tuple(anyLine, fc.constantFrom('\n', '\n', '\n', '\r\n', '\r')), { maxLength: 12 })
  .map((lines) => lines.map(([text, end]) => text + end).join(''));
