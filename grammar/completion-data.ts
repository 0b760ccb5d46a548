import { allVerbs, factsOf, type Key, keyRow, type Verb, verbRow } from './vocabulary.ts';

export interface Offer {
  readonly label: string;
  readonly kind: 'verb' | 'fact' | 'flag' | 'choice';
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

/** Facts and words a verb takes, those on the line already left out. */
export function factOffers(verb: Verb, given: ReadonlySet<Key>): Offer[] {
  const offers: Offer[] = [];
  for (const key of factsOf(verb)) {
    const row = keyRow(key);
    if (nameless.has(key) || (given.has(key) && !row.repeats)) continue;
    const { help, example } = row;
    if (row.value === 'flag') offers.push({ label: key, kind: 'flag', help, example });
    else if (row.keyless)
      for (const word of row.choices ?? []) offers.push({ label: word, kind: 'choice', help, example: word });
    else offers.push({ label: key, kind: 'fact', snippet: snippetOf(key, example), help, example });
  }
  return offers;
}

/** `cut 40%` becomes `cut ${1:40%}`: the example as what is typed over. */
function snippetOf(key: Key, example: string): string {
  const value = example
    .slice(key.length)
    .trim()
    .replaceAll(/[$}\\]/g, '\\$&');
  return value ? `${key} \${1:${value}}` : key;
}
