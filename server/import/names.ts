import { readLine } from '#grammar/line.ts';
import { asked, gone, reservedWords } from '#grammar/vocabulary.ts';

export type Named = 'batch' | 'tree' | 'place';

/** Longer than a name anyone would type again. */
const longest = 40;
const initial = { batch: 'B', tree: 'T', place: 'P' } as const;

/** A name that another log of the folder declares. */
export interface Standing {
  readonly kind: Named | 'lot';
  readonly name: string;
  readonly file: string;
  /** From 1. */
  readonly line: number;
}

/** A batch of the sheet whose name is another log's batch already, and the name it would have instead. */
export interface Clash {
  readonly there: Standing;
  readonly instead: string;
}

export interface Names {
  /** The name in the log of what the sheet calls so; the same again for the same words. */
  nameOf(kind: Named, spelled: string): string;
  /** A batch the sheet has no name for: the same again for the same key; `P24`, then `P24b`. */
  derive(key: string, wanted: string): string;
  /** What could not keep its spelling: name, and the sheet's words. */
  changed(): readonly { readonly kind: Named; readonly name: string; readonly spelled: string }[];
  /** Batches that may be the same grafts as those on record, or others: only the sheet's owner knows. */
  clashes(): readonly Clash[];
  /** Places and trees of the folder that the sheet means: they are declared already. */
  known(): readonly Standing[];
}

/**
 * Gives the sheet's batches, trees and places names as the notation has them: one namespace with the folder's other
 * logs, no word of the notation. A place or tree of that name is the same one.
 */
export function namesOfSheet(standing: readonly Standing[]): Names {
  const given = new Map<string, { kind: Named; name: string; spelled: string }>();
  const derived = new Map<string, string>();
  const others = new Map(standing.map((one) => [one.name.toLowerCase(), one] as const));
  const taken = new Set<string>(others.keys());
  const clashes: Clash[] = [];
  const known = new Set<Standing>();
  const takeBatch = (wanted: string, next: (i: number) => string): string => {
    const name = take(wanted, next);
    const there = others.get(wanted.toLowerCase());
    if (there?.kind === 'batch') clashes.push({ there, instead: name });
    return name;
  };
  const take = (wanted: string, next: (i: number) => string): string => {
    let name = wanted;
    for (let i = 2; taken.has(name.toLowerCase()); i++) name = `${wanted}${next(i)}`;
    taken.add(name.toLowerCase());
    return name;
  };
  return {
    nameOf(kind, spelled) {
      const words = spelled.normalize('NFC').trim().replace(/\s+/g, ' ');
      const key = `${kind} ${words.toLowerCase()}`;
      const before = given.get(key);
      if (before) return before.name;
      const wanted = nameFrom(kind, words);
      const there = others.get(wanted.toLowerCase());
      const same = kind !== 'batch' && there?.kind === kind ? there : undefined;
      if (same) known.add(same);
      const name = same?.name ?? (kind === 'batch' ? takeBatch : take)(wanted, (i) => `-${i}`);
      given.set(key, { kind, name, spelled: words });
      return name;
    },
    derive(key, wanted) {
      const before = derived.get(key);
      if (before) return before;
      const name = takeBatch(wanted, (i) => (i <= 26 ? String.fromCharCode(96 + i) : `-${i}`));
      derived.set(key, name);
      return name;
    },
    clashes: () => clashes,
    known: () => [...known],
    changed: () => [...given.values()].filter(({ name, spelled }) => name.toLowerCase() !== spelled.toLowerCase()),
  };
}

function nameFrom(kind: Named, words: string): string {
  const joined = words
    .replace(/[^\p{L}\p{M}\p{N}]+/gu, '-')
    .slice(0, longest)
    .replace(/^-+|-+$/g, '');
  const led = /^\p{L}/u.test(joined) ? joined : `${initial[kind]}${joined}`;
  return [led, `${initial[kind]}-${led}`].find(isName) ?? initial[kind];
}

/** A name the notation reads as one wherever names stand, and that is none of its words. */
export function isName(name: string): boolean {
  const key = name.toLowerCase();
  if (reservedWords.has(key) || asked.has(key) || gone.has(key)) return false;
  const declared = readLine(`batch ${name}`);
  const graft = readLine(`graft ${name}.1  onto ${name}  from ${name}`);
  const move = readLine(`move ${name}  to ${name}`);
  return (
    [declared, graft, move].every(({ problems }) => problems.length === 0) &&
    [declared, graft, move].every(({ statement }) => statement?.sets[0]?.name.text === name)
  );
}
