import { readFileSync } from 'node:fs';
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

const written = readFileSync(new URL('../../server/engine/practice.graft', import.meta.url), 'utf8')
  .concat(readFileSync(new URL('../engine/logs/two-seasons.graft', import.meta.url), 'utf8'))
  .split('\n')
  .filter((line) => line.trim() !== '' && !line.startsWith('#'));

/** A line that was right, with a piece dropped, doubled, moved, put in from another line, or a letter off. */
const slippedLine = fc
  .tuple(
    fc.constantFrom(...written),
    fc.constantFrom(...written),
    fc.array(fc.tuple(fc.nat(6), fc.nat(60), fc.nat(60)), { minLength: 1, maxLength: 3 }),
  )
  .map(([line, other, slips]) => {
    let words = line.split(/ +/);
    for (const [kind, a, b] of slips) {
      const [from, to] = [a % words.length, b % words.length];
      const word = words[from] ?? '';
      const letter = b % Math.max(1, word.length);
      if (kind === 0) words.splice(from, 1);
      else if (kind === 1) words.splice(to, 0, word);
      else if (kind === 2) words.splice(to, 0, ...words.splice(from, 1));
      else if (kind === 3) words.splice(to, 0, other.split(/ +/)[a % 8] ?? '');
      else if (kind === 4) words[from] = word.slice(0, letter) + word.slice(letter + 1);
      else if (kind === 5)
        words[from] = word.slice(0, letter) + word.charAt(letter).toUpperCase() + word.slice(letter + 1);
      else
        words = words
          .join(' ')
          .replace(/ /g, b % 2 ? ', ' : '  ')
          .split(' ');
      if (words.length === 0) words = [''];
    }
    return words.join(' ');
  });

/** A line of a log, or of anything else: near lines, right lines with slips, free text, and stray units of UTF-16. */
export const anyLine = fc.oneof(
  { weight: 4, arbitrary: nearLine },
  { weight: 4, arbitrary: slippedLine },
  { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 60 }) },
  { weight: 1, arbitrary: fc.string({ unit: 'grapheme', maxLength: 60 }) },
);

export const anyLog = fc
  .array(fc.tuple(anyLine, fc.constantFrom('\n', '\n', '\n', '\r\n', '\r')), { maxLength: 12 })
  .map((lines) => lines.map(([text, end]) => text + end).join(''));
