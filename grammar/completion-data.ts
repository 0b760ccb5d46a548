import { allCodes, codes } from './codes.ts';
import {
  allVerbs,
  checkFlags,
  coverFlags,
  eventWords,
  factsOf,
  groups,
  type Key,
  keyRow,
  methods,
  months,
  seasons,
  type Verb,
  verbRow,
  workWords,
} from './vocabulary.ts';

export interface Offer {
  readonly label: string;
  readonly kind: 'verb' | 'fact' | 'flag' | 'choice';
  /** The fact it is, or is the value of. */
  readonly key?: Key;
  /** What stands behind the word, as a snippet with one place to fill in; absent where the word is all. */
  readonly snippet?: string;
  readonly help: string;
  readonly example: string;
}

const nameless: ReadonlySet<Key> = new Set<Key>(['share', 'amount', 'count']);

export function verbOffers(): Offer[] {
  return allVerbs.map((verb) => ({
    label: verb,
    kind: 'verb',
    help: verbRow(verb).help,
    example: verbRow(verb).example,
  }));
}

/** Facts and words a verb takes, those on the line already left out; of a rule the words for whom it holds, too. */
export function factOffers(verb: Verb, given: ReadonlySet<Key>): Offer[] {
  const offers: Offer[] = verbRow(verb).operand === 'scopes' ? scopeOffers(verb) : [];
  for (const key of factsOf(verb)) {
    const row = keyRow(key);
    if (nameless.has(key) || (given.has(key) && !row.repeats)) continue;
    const { help, example } = row;
    if (row.value === 'flag') offers.push({ label: key, kind: 'flag', key, help, example });
    else if (row.keyless) offers.push(...words(row.choices ?? [], help).map((offer) => ({ ...offer, key })));
    else offers.push({ label: key, kind: 'fact', key, snippet: snippetOf(key, example), help, example });
  }
  return offers;
}

/** Words for whom a rule holds. */
export function scopeOffers(verb: Verb): Offer[] {
  const { example } = verbRow(verb);
  const scope =
    (help: string) =>
    (label: string): Offer => ({ label, kind: 'choice', help, example });
  return [
    scope('For every graft, wherever nothing closer is said.')('any'),
    scope('For scions cut off their tree: all methods but buds, approach and thread.')('detached'),
    ...methods.map(scope('For grafts made this way.')),
    ...groups.map(scope('For plants of this group.')),
  ];
}

/** The words that can stand behind a key. Empty where it takes a figure, a text or a name of the log. */
export function valueOffers(key: Key): Offer[] {
  const row = keyRow(key);
  const { help } = row;
  switch (row.value) {
    case 'choice':
      return words(row.choices ?? [], help);
    case 'work':
    case 'task':
      return words(row.value === 'task' ? [...new Set([...workWords, ...allVerbs])] : workWords, help);
    case 'events':
      return words([...new Set([...eventWords, ...workWords, ...checkFlags, ...allVerbs])], help);
    case 'covers':
      return words([...coverFlags, 'none'], help);
    case 'year':
      return words([...months, ...seasons, 'none'], help);
    case 'code':
      return allCodes
        .filter((code) => codes[code].severity !== 'error')
        .map((code) => ({ label: code, kind: 'choice', help: `${codes[code].title}.`, example: `accept ${code}` }));
    default:
      return [];
  }
}

const words = (labels: readonly string[], help: string): Offer[] =>
  labels.map((label) => ({ label, kind: 'choice', help, example: label }));

/** `cut 40%` becomes `cut ${1:40%}`: the example as what is typed over. */
function snippetOf(key: Key, example: string): string {
  const value = example
    .slice(key.length)
    .trim()
    .replaceAll(/[$}\\]/g, '\\$&');
  return value ? `${key} \${1:${value}}` : key;
}
