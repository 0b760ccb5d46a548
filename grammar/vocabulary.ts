import {
  checkFlags,
  coverFlags,
  eventWords,
  groups,
  type Key,
  type KeyRow,
  keys,
  methods,
  months,
  seasons,
  workWords,
} from './vocabulary/keys.ts';
import { type Verb, type VerbRow, verbs, workFacts } from './vocabulary/verbs.ts';

export { type FormRow, forms } from './vocabulary/forms.ts';
export {
  causes,
  checkFlags,
  coverFlags,
  eventWords,
  groups,
  type Key,
  type KeyRow,
  type Method,
  methods,
  months,
  seasons,
  type ValueForm,
  workWords,
} from './vocabulary/keys.ts';
export { lookAlikes } from './vocabulary/look-alikes.ts';
export type { Verb, VerbRow } from './vocabulary/verbs.ts';

export const verbRow = (verb: Verb): VerbRow => verbs[verb];
export const keyRow = (key: Key): KeyRow => keys[key];
export const allVerbs = Object.keys(verbs) as Verb[];
export const allKeys = Object.keys(keys) as Key[];

/** What a word is to one verb. */
export type Meaning =
  | { readonly class: 'key'; readonly key: Key }
  | { readonly class: 'flag'; readonly key: Key }
  | {
      readonly class: 'choice';
      readonly key: Key;
      readonly word: string;
      /** The fact's value, one for all lines. */
      readonly value: { readonly kind: 'word'; readonly word: string };
    }
  | { readonly class: 'scope'; readonly word: string };

/** Facts a verb takes, the ones of every line of work included. */
export function factsOf(verb: Verb): readonly Key[] {
  const row = verbRow(verb);
  if (verb === 'practice') return practiceKeys;
  return row.kind === 'work' ? [...row.facts, ...workFacts] : row.facts;
}

const practiceOnly: readonly Key[] = [
  'off',
  'work',
  'earliest',
  'after',
  'wait',
  'till',
  'within',
  'certain',
  'urgent',
  'needs',
  'stands',
  'made',
  'collected',
  'potted',
  'growth',
  'last-frost',
  'first-frost',
  'degree-base',
  'prior',
  'weight',
  'task',
  'warning',
  'information',
  'source',
  ...coverFlags,
  'heated',
  'mist',
];
const practiceKeys: readonly Key[] = [...allKeys.filter((key) => keyRow(key).limit), ...practiceOnly];

/** Verb by the word on the line, synonyms and past forms included; compare in lower case. */
export const verbWords: ReadonlyMap<string, Verb> = new Map(
  allVerbs.flatMap((verb) => [
    [verb, verb] as const,
    ...(verbRow(verb).also ?? []).map((word) => [word, verb] as const),
  ]),
);

/** Other words for flags and choices, silently read. */
export const wordSynonyms: ReadonlyMap<string, string> = new Map([
  ['veneer', 'side-veneer'],
  ['fall', 'autumn'],
]);

const built = new Map<Verb, ReadonlyMap<string, Meaning>>();

/** The words of one verb's line: between lexer and parser this turns each word into key, flag, choice or plain word. */
export function wordsOf(verb: Verb): ReadonlyMap<string, Meaning> {
  const known = built.get(verb);
  if (known) return known;
  const words = new Map<string, Meaning>();
  const scoped = verbRow(verb).operand === 'scopes';
  if (scoped) for (const word of ['any', 'detached', ...methods, ...groups]) words.set(word, { class: 'scope', word });
  for (const key of factsOf(verb)) {
    const row = keyRow(key);
    // `share`, `amount` and `count` have no word of their own; a rule about the whole method is a scope
    if (row.keyless && !scoped)
      for (const word of row.choices ?? [])
        words.set(word, { class: 'choice', key, word, value: { kind: 'word', word } });
    if (namelessKeys.has(key)) continue;
    const meaning: Meaning = { class: row.value === 'flag' ? 'flag' : 'key', key };
    for (const word of [key, ...(row.also ?? [])])
      if (!words.has(word) || key === word) setWord(words, word, meaning, verb);
  }
  for (const [word, canonical] of wordSynonyms) {
    const meaning = words.get(canonical);
    if (meaning && !words.has(word)) words.set(word, meaning);
  }
  built.set(verb, words);
  return words;
}

/** `side` is a method on a graft line, its key is never written; in `practice` a method is a scope. */
function setWord(words: Map<string, Meaning>, word: string, meaning: Meaning, verb: Verb): void {
  if (word === 'side') return;
  if (verb === 'practice' && words.get(word)?.class === 'scope') return;
  words.set(word, meaning);
}

/** Keys whose value says all: they have no word of their own. */
export const namelessKeys: ReadonlySet<Key> = new Set<Key>(['share', 'amount', 'count', 'word']);

/** Any word of the notation: what a name may not be. */
export const reservedWords: ReadonlySet<string> = new Set([
  ...verbWords.keys(),
  ...allKeys.filter((key) => !namelessKeys.has(key)),
  ...allKeys.flatMap((key) => [...(keyRow(key).also ?? []), ...(keyRow(key).choices ?? [])]),
  ...groups,
  ...months,
  ...seasons,
  ...workWords,
  ...eventWords,
  ...checkFlags,
  ...wordSynonyms.keys(),
  'any',
  'detached',
  'rest',
  'except',
  'none',
  'tape',
]);

/** First parts of words with a hyphen: `side` of `side-veneer`. A blank may stand for the hyphen. */
export const hyphenStarts: ReadonlySet<string> = new Set(
  [...reservedWords].filter((word) => word.includes('-')).map((word) => word.slice(0, word.indexOf('-'))),
);

/** Events a practice line may count from. */
export const events: ReadonlySet<string> = new Set([...allVerbs, ...checkFlags, ...workWords, ...eventWords]);

/** The nearest of some words: by edits, within two and a third of the length; else the only one it is the beginning of. */
export function nearest(word: string, words: Iterable<string>): string | undefined {
  let best: string | undefined;
  const begun: string[] = [];
  let least = Math.min(2, Math.max(1, Math.floor(word.length / 3))) + 1;
  for (const candidate of words) {
    if (word.length >= 3 && candidate.startsWith(word)) begun.push(candidate);
    if (Math.abs(candidate.length - word.length) >= least) continue;
    const distance = edits(word, candidate, least);
    if (distance < least) [best, least] = [candidate, distance];
  }
  return best ?? (begun.length === 1 ? begun[0] : undefined);
}

/** Edits between two words, a swap of neighbours counting one (optimal string alignment); stops past `limit`. */
function edits(a: string, b: string, limit: number): number {
  let before: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, i) => i);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let cost = Math.min((row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1, (row[j - 1] ?? 0) + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        cost = Math.min(cost, (before[j - 2] ?? 0) + 1);
      next.push(cost);
    }
    if (Math.min(...next) > limit) return limit + 1;
    [before, row] = [row, next];
  }
  return row[b.length] ?? limit + 1;
}

/** Words that went, and the sentence that says it now, its figure in braces: `{42d}`. */
export const gone: ReadonlyMap<string, string> = new Map([
  ['look', 'work look  after word  wait {7..14d}'],
  ['union', 'earliest untie  after growth  wait {oct-01}'],
  ['swell-after', 'earliest swell  after graft  wait {21d}'],
  ['take-after', 'earliest take  after graft  wait {42d}'],
  ['untie-after', 'earliest untie  after graft  wait {21d}'],
  ['sever-after', 'work sever  after growth  wait {oct-01..sep-30}'],
  ['headback-every', 'earliest headback  after headback  wait {42d}'],
  ['silent-taken', 'silent {365d..3y}  after take'],
]);

/** Words that could mean two facts: both are offered, none is guessed. */
export const asked: ReadonlyMap<string, readonly Key[]> = new Map([['tape', ['film', 'tie']]]);

/** The words behind which a fact's value stands: keys, and what is read as them. */
export const valuedWords: readonly { readonly word: string; readonly key: Key }[] = allKeys
  .filter((key) => keyRow(key).value !== 'flag' && !namelessKeys.has(key) && key !== 'side')
  .flatMap((key) => [key, ...(keyRow(key).also ?? [])].map((word) => ({ word, key })));

/** A word that begins a fact with a value on some verb's line: what stands behind it belongs to it. */
export const keyedWords: ReadonlySet<string> = new Set([
  ...valuedWords.map(({ word }) => word),
  ...asked.keys(),
  ...gone.keys(),
]);
