import { allCodes } from './codes.ts';
import {
  allKeys,
  allVerbs,
  eventWords,
  groups,
  keyRow,
  months,
  reservedWords,
  seasons,
  valuedWords,
  verbRow,
  verbWords,
  wordSynonyms,
  workWords,
} from './vocabulary.ts';

/** The words as an alternation, longest first, so that `side-veneer` is not read as `side`. */
const anyOf = (words: Iterable<string>): string =>
  `(?:${[...new Set(words)].sort((a, b) => b.length - a.length || a.localeCompare(b)).join('|')})`;

const start = "(?<![\\p{L}\\p{N}_'-])";
const end = "(?![\\p{L}\\p{N}_'-])";
const word = (words: Iterable<string>) => `${start}${anyOf(words)}${end}`;
const blank = '[\\s,;:=]+';
const oneCapital = '(?!\\p{L}+\\p{Lu})';
/** A batch, tree, lot or place by itself; with numbers behind it is a set of grafts. */
const name = `(?!${anyOf(reservedWords)}${end})\\p{L}[\\p{L}\\p{N}_-]*${end}(?!\\.\\d)`;
const unit = '(?:mm|cm|in|%|°C|C|°F|F|min|mo|h|d|wk|y)?';
const figure = `[-−+]?\\d+(?:[.,]\\d+)?(?:/\\d+)?${unit}(?![\\p{L}\\p{N}])`;

/** Verbs, with what is read as them, whose first operand is a name or a set. */
const named = [...verbWords].flatMap(([spelled, verb]) =>
  ['name', 'made', 'sets'].includes(verbRow(verb).operand) ? [spelled] : [],
);
/** Words behind which a value of some form stands. */
const wordsOfForm = (...forms: readonly string[]) =>
  valuedWords.filter(({ key }) => forms.includes(keyRow(key).value)).map((valued) => valued.word);

/** The TextMate grammar: colours without a server, made from the vocabulary. */
export function textMateGrammar(): object {
  const flags = allKeys.filter((key) => keyRow(key).value === 'flag');
  const dated = '^\\s*(\\d{4}-\\d{1,2}-\\d{1,2})?\\s*(\\d{1,2}:\\d{2})?\\s*';
  const captures = {
    1: { name: 'constant.numeric.date.graft' },
    2: { name: 'constant.numeric.time.graft' },
    3: { name: 'keyword.control.graft' },
    4: { name: 'entity.name.type.graft' },
  };
  return {
    $schema: 'https://raw.githubusercontent.com/martinring/tmlanguage/master/tmlanguage.json',
    name: 'Graft Log',
    scopeName: 'source.graft',
    patterns: [
      { include: '#comment' },
      // a telephone puts a capital at a line's start; a verb in capitals throughout isn't read as one
      { match: `${dated}(${oneCapital}(?i:${anyOf(named)})${end})(?:${blank}(${name}))?`, captures },
      { match: `${dated}(${oneCapital}(?i:${anyOf(verbWords.keys())})${end})?`, captures },
      // a zone, a hand and a text of one word may begin with a capital and are no plants
      {
        match: `${start}(${anyOf(wordsOfForm('zone', 'hands', 'text'))})${blank}((?!${anyOf(reservedWords)}${end})\\p{L}[\\p{L}\\p{N}_/’'-]*(?:,[\\p{L}\\p{N}_’'-]+)*)`,
        captures: { 1: { name: 'variable.other.property.graft' }, 2: { name: 'string.unquoted.graft' } },
      },
      {
        match: `${start}(${anyOf(wordsOfForm('name', 'names'))})${blank}(${name}(?:,${name})*)`,
        captures: { 1: { name: 'variable.other.property.graft' }, 2: { name: 'entity.name.type.graft' } },
      },
      { include: '#text' },
      { include: '#set' },
      { include: '#plant' },
      { match: `${start}${anyOf(months)}-\\d{1,2}${end}`, name: 'constant.numeric.graft' },
      { include: '#figure' },
      { match: word(valuedWords.map((valued) => valued.word)), name: 'variable.other.property.graft' },
      {
        match: word([
          ...flags.flatMap((key) => [key, ...(keyRow(key).also ?? [])]),
          ...allKeys.flatMap((key) => keyRow(key).choices ?? []),
          ...wordSynonyms.keys(),
          ...allCodes,
          ...groups,
          'any',
          'detached',
          // behind `work`, `after`, `task`
          ...workWords,
          ...eventWords,
          ...allVerbs,
        ]),
        name: 'constant.language.graft',
      },
      { match: word([...months, ...seasons, 'rest', 'except']), name: 'keyword.operator.word.graft' },
    ],
    repository: {
      comment: { match: '#.*$', name: 'comment.line.number-sign.graft' },
      text: {
        patterns: [
          // behind a figure the mark means inches
          { match: '(?<!\\d)"(?:[^"]|"")*"?', name: 'string.quoted.double.graft' },
          { match: '“[^”]*”?', name: 'string.quoted.double.graft' },
        ],
      },
      set: {
        match:
          '(?<![\\p{L}\\p{N}])(\\p{L}[\\p{L}\\p{N}_-]*)(\\.\\d+(?:(?:\\.\\.|[-–])\\d+)?(?:, ?\\d+(?:(?:\\.\\.|[-–])\\d+)?(?![\\p{L}%/:]))*)',
        captures: { 1: { name: 'entity.name.type.graft' }, 2: { name: 'constant.numeric.graft' } },
      },
      plant: {
        patterns: [
          {
            match: `${start}(?:'(?:[^']|'(?=\\p{L}))*'?|‘(?:[^’]|’(?=\\p{L}))*’?)`,
            name: 'string.quoted.single.cultivar.graft',
          },
          {
            match: `(?<![\\p{L}\\p{N}_-])\\p{Lu}(?:\\p{Ll}+(?![\\p{L}\\p{N}_-])|\\.)(?: (?!${anyOf(reservedWords)}${end})\\p{Ll}[\\p{Ll}-]+)?`,
            name: 'markup.italic.taxon.graft',
          },
        ],
      },
      figure: { match: `(?<![\\p{L}\\p{N}])${figure}|${start}[×x]\\d+`, name: 'constant.numeric.graft' },
    },
  };
}
