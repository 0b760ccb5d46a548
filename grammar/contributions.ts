import { codes } from './codes.ts';
import {
  allKeys,
  allVerbs,
  factsOf,
  groups,
  keyRow,
  methods,
  months,
  seasons,
  type Verb,
  verbRow,
} from './vocabulary.ts';

/** The words as an alternation, longest first, so that `side-veneer` is not read as `side`. */
const anyOf = (words: Iterable<string>): string =>
  [...new Set(words)].sort((a, b) => b.length - a.length || a.localeCompare(b)).join('|');

const nameless = new Set(['share', 'amount', 'count', 'word', 'cause', 'side', 'method']);

/** The TextMate grammar: colours without a server, made from the vocabulary. */
export function textMateGrammar(): object {
  const verbWords = allVerbs.flatMap((verb) => [verb, ...(verbRow(verb).also ?? [])]);
  const valued = allKeys.filter((key) => keyRow(key).value !== 'flag' && !nameless.has(key));
  const flags = allKeys.filter((key) => keyRow(key).value === 'flag');
  const choices = allKeys.flatMap((key) => keyRow(key).choices ?? []);
  const also = (keys: readonly (typeof allKeys)[number][]) => keys.flatMap((key) => [key, ...(keyRow(key).also ?? [])]);
  const word = (words: Iterable<string>) => `(?<![\\p{L}\\p{N}_'-])(?:${anyOf(words)})(?![\\p{L}\\p{N}_'-])`;
  const unit = '(?:mm|cm|in|%|°C|C|°F|F|min|mo|h|d|wk|y)?';
  return {
    $schema: 'https://raw.githubusercontent.com/martinring/tmlanguage/master/tmlanguage.json',
    name: 'Graft Log',
    scopeName: 'source.graft',
    patterns: [
      { include: '#comment' },
      {
        match: `^\\s*(\\d{4}-\\d{1,2}-\\d{1,2})?\\s*(\\d{1,2}:\\d{2})?\\s*((?:${anyOf(verbWords)})(?![\\p{L}\\p{N}_'-]))?`,
        captures: {
          1: { name: 'constant.numeric.date.graft' },
          2: { name: 'constant.numeric.time.graft' },
          3: { name: 'keyword.control.graft' },
        },
      },
      // a zone and a site’s name begin with a capital and are no plants
      { match: '(?<=\\btz\\s+|^\\s*site\\s+)[\\p{L}_/-]+', name: 'string.unquoted.graft' },
      { include: '#text' },
      { include: '#set' },
      { include: '#plant' },
      { include: '#figure' },
      { match: word(also(valued)), name: 'variable.other.property.graft' },
      {
        match: word([...also(flags), ...choices, ...methods, ...groups, 'any', 'detached']),
        name: 'constant.language.graft',
      },
      { match: word([...months, ...seasons, 'rest', 'except', 'none']), name: 'keyword.operator.word.graft' },
    ],
    repository: {
      comment: { match: '#.*$', name: 'comment.line.number-sign.graft' },
      text: {
        patterns: [
          { match: '"(?:[^"]|"")*"?', name: 'string.quoted.double.graft' },
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
          { match: "'(?:[^']|'(?=\\p{L}))*'?|‘(?:[^’]|’(?=\\p{L}))*’?", name: 'string.quoted.single.cultivar.graft' },
          {
            match: '(?<![\\p{L}\\p{N}_-])\\p{Lu}(?:\\p{Ll}+(?![\\p{L}\\p{N}_-])|\\.)(?: \\p{Ll}[\\p{Ll}-]+)?',
            name: 'markup.italic.taxon.graft',
          },
        ],
      },
      figure: {
        match: `(?<![\\p{L}\\p{N}])[-−+]?\\d+(?:[.,]\\d+)?(?:/\\d+)?${unit}(?![\\p{L}\\p{N}])|[×x]\\d+`,
        name: 'constant.numeric.graft',
      },
    },
  };
}

/** The reference page: every verb, fact and code. */
export function referencePage(): string {
  const verbs = allVerbs.map((verb) => verbSection(verb)).join('\n');
  const facts = allKeys
    .filter((key) => keyRow(key).example !== '')
    .map((key) => {
      const row = keyRow(key);
      const range = row.plausible ? plausible(row.value, row.plausible) : '';
      const also = row.also ? ` Also read: ${row.also.map((word) => `\`${word}\``).join(', ')}.` : '';
      const choices = row.choices
        ? ` One of ${row.choices.map((word) => `\`${word}\``).join(', ')}${row.keyless ? '; the word stands alone' : ''}.`
        : '';
      return `| \`${key}\` | \`${row.example}\` | ${row.help}${choices}${range}${also} |`;
    })
    .join('\n');
  const rows = Object.entries(codes)
    .map(([code, row]) => `| \`${code}\` | ${row.severity} | ${row.title} |`)
    .join('\n');
  return `<!-- Made by grammar/contributions.ts from the vocabulary and the codes; a test compares. -->
# The notation

One line is one piece of work: date, what was done, to which grafts, with what facts. A line with a date alone holds for
the undated lines under it. \`#\` begins a remark, a text stands in double quotes, a cultivar in single quotes.

## Verbs

${verbs}
## Facts

| fact | example | what it says |
|---|---|---|
${facts}

## What is found

| code | at most | what was seen |
|---|---|---|
${rows}
`;
}

function verbSection(verb: Verb): string {
  const row = verbRow(verb);
  const also = row.also ? ` Also read: ${row.also.map((word) => `\`${word}\``).join(', ')}.` : '';
  const facts = factsOf(verb).filter((key) => !nameless.has(key));
  const takes = facts.length > 0 ? `\nTakes ${facts.map((key) => `\`${key}\``).join(' ')}.\n` : '';
  return `### ${verb}\n\n${row.help}${also}\n\n\`\`\`graft\n${row.example}\n\`\`\`\n${takes}`;
}

function plausible(form: string, [low, high]: readonly [number, number]): string {
  if (form === 'share' || form === 'depth') return ` ${low * 100} to ${high * 100} % is plausible.`;
  const unit =
    form === 'length' || form === 'size' ? ' mm' : form === 'temperature' ? ' °C' : form === 'duration' ? ' days' : '';
  return ` ${low} to ${high}${unit} is plausible.`;
}
