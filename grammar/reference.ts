import { codes } from './codes.ts';
import { formatText } from './format.ts';
import { readLine } from './line.ts';
import { plausibleText } from './read/figures.ts';
import { units } from './values/quantity.ts';
import {
  allKeys,
  allVerbs,
  asked,
  type FormRow,
  factsOf,
  forms,
  gone,
  type Key,
  type KeyRow,
  keyRow,
  lookAlikes,
  methods,
  namelessKeys,
  type ValueForm,
  type Verb,
  verbRow,
  verbWords,
  wordSynonyms,
} from './vocabulary.ts';

/** The reference page: every verb, fact, form of value, unit, synonym and code. */
export function referencePage(): string {
  return `<!-- Made by grammar/reference.ts from the vocabulary and the codes; a test compares. -->
# The notation

One line is one piece of work: date, what was done, to which grafts, with what facts. A line with a date alone holds for
the undated lines under it. \`#\` begins a remark, a text stands in double quotes, a cultivar in single quotes.

[Verbs](#verbs) · [Facts](#facts) · [How values are written](#how-values-are-written) · [Also read](#also-read) ·
[Look-alikes](#look-alikes) · [What is found](#what-is-found)

## Verbs

${allVerbs.map(verbSection).join('\n')}
## Facts

Beyond what is plausible a figure is a slip, an error; practice lies well inside.

${table(['fact', 'value', 'example', 'what it says'], allKeys.filter((key) => keyRow(key).example !== '').map(factCells))}

## How values are written

A unit stands right behind its figure. A figure that varied is an interval, \`35..40%\`; only a practice line leaves an end
open, \`5mm..\`.

${table(
  ['value', 'written', 'units'],
  toldForms().map((form) => [forms[form].what, forms[form].written, unitsOf(forms[form])]),
)}

## Also read

These are read in silence as the word of the notation. A verb may begin with a capital, a blank may stand for a hyphen
(\`side veneer\`, \`frost free\`), names compare without case.

${table(['written', 'read as'], synonyms())}

Not guessed: ${[...asked].map(([word, keys]) => `\`${word}\` could be ${keys.map((key) => `\`${key}\``).join(' or ')}`).join('; ')}.

## Look-alikes

What can be read one way only is read; the layout writes it as on the right.

${table(
  ['written', 'read as'],
  lookAlikes.read.map((line) => [code(line), code(formatText(line))]),
)}

What could be two things, or isn’t sure, is said.

${table(
  ['written', 'code', 'what is said'],
  lookAlikes.said.map((line) => {
    const problem = readLine(line).problems[0];
    return [code(line), problem ? code(problem.code) : '', problem?.message ?? ''];
  }),
)}

Some rules were words once and are sentences now; the finding offers the sentence.

${table(
  ['word', 'written now'],
  [...gone].map(([word, sentence]) => [code(word), code(sentence.replace(/[{}]/g, ''))]),
)}

## What is found

${table(
  ['code', 'at most', 'what was seen'],
  Object.entries(codes).map(([name, row]) => [code(name), row.severity, row.title]),
)}
`;
}

const code = (text: string) => `\`${text}\``;

const table = (heads: readonly string[], rows: readonly (readonly string[])[]) =>
  [heads, heads.map(() => '---'), ...rows]
    .map((cells) => `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`)
    .join('\n')
    .replace('| --- |', '|---|')
    .replaceAll(' --- |', '---|');

function verbSection(verb: Verb): string {
  const row = verbRow(verb);
  const also = row.also ? ` Also read: ${row.also.map(code).join(', ')}.` : '';
  const own = factsOf(verb);
  const takes = own.length > 0 ? `\nTakes ${own.map(taken).join(', ')}.\n` : '';
  return `### ${verb}\n\n${row.help}${also}\n\n\`\`\`graft\n${row.example}\n\`\`\`\n${takes}`;
}

/** A fact by its key; one that has no key by what is written in its stead. */
function taken(key: Key): string {
  const row = keyRow(key);
  if (row.choices === methods) return 'a method';
  if (row.keyless) return (row.choices ?? []).map(code).join(', ');
  if (key === 'share') return 'how far it is now';
  if (key === 'amount') return 'how much';
  return code(namelessKeys.has(key) ? row.example : key);
}

function factCells(key: Key): string[] {
  const row = keyRow(key);
  const choices = row.choices
    ? ` One of ${row.choices.map(code).join(', ')}${row.keyless ? '; the word stands alone' : ''}.`
    : '';
  const also = row.also ? ` Also read: ${row.also.map(code).join(', ')}.` : '';
  const value = row.optional ? `${forms.flag.what}, or ${forms[row.value].what}` : forms[row.value].what;
  return [code(key), value, code(row.example), row.help + choices + plausible(row) + also];
}

function plausible({ value, plausible: range, plausibleBeside: beside }: KeyRow): string {
  // a stage has all its figures in its help
  if (!range || value === 'stage') return '';
  const [first, second] = (forms[value] as FormRow).measures ?? [];
  const main = plausibleText(...range, first ?? 'number');
  if (!beside) return ` ${main} is plausible.`;
  const other = plausibleText(...beside, second ?? first ?? 'number');
  return ` ${main}${second ? ', or' : ' long,'} ${other}${second ? '' : ' thick'} is plausible.`;
}

/** Forms in the order of their facts; of a word or a choice of words all is said beside the fact. */
const toldForms = (): ValueForm[] =>
  [...new Set(allKeys.map((key) => keyRow(key).value))].filter((form) => form !== 'flag' && form !== 'choice');

function unitsOf({ measures }: FormRow): string {
  return Object.entries(units)
    .filter(([, unit]) => measures?.includes(unit.measure))
    .map(([unit]) => code(unit))
    .join(' ');
}

/** What is read as another word, in the order of the tables. */
function synonyms(): string[][] {
  const verbs = [...verbWords].filter(([word, verb]) => word !== verb);
  const facts = allKeys.flatMap((key) => (keyRow(key).also ?? []).map((word) => [word, key] as const));
  const byMeaning = new Map<string, string[]>();
  for (const [word, meaning] of [...verbs, ...facts, ...wordSynonyms])
    byMeaning.set(meaning, [...(byMeaning.get(meaning) ?? []), word]);
  return [...byMeaning].map(([meaning, words]) => [words.map(code).join(' '), code(meaning)]);
}
