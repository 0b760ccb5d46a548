import { readLine } from '#grammar/line.ts';
import { asked, gone, reservedWords } from '#grammar/vocabulary.ts';

export type Named = 'batch' | 'tree' | 'place';

/** Longer than a name anyone would type again. */
const longest = 40;
const initial = { batch: 'B', tree: 'T', place: 'P' } as const;

export interface Names {
  /** The name in the log of what the sheet calls so; the same again for the same words. */
  nameOf(kind: Named, spelled: string): string;
  /** A batch the sheet has no name for: the same again for the same key; `P24`, then `P24b`. */
  derive(key: string, wanted: string): string;
  /** What could not keep its spelling: name, and the sheet's words. */
  changed(): readonly { readonly kind: Named; readonly name: string; readonly spelled: string }[];
}

/** Gives the sheet's batches, trees and places names as the notation has them: one namespace, no word of the notation. */
export function namesOfSheet(): Names {
  const given = new Map<string, { kind: Named; name: string; spelled: string }>();
  const derived = new Map<string, string>();
  const taken = new Set<string>();
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
      const known = given.get(key);
      if (known) return known.name;
      const name = take(nameFrom(kind, words), (i) => `-${i}`);
      given.set(key, { kind, name, spelled: words });
      return name;
    },
    derive(key, wanted) {
      const known = derived.get(key);
      if (known) return known;
      const name = take(wanted, (i) => (i <= 26 ? String.fromCharCode(96 + i) : `-${i}`));
      derived.set(key, name);
      return name;
    },
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
