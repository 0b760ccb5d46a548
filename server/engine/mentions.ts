import type { Name, SetRef, Statement } from '#grammar/statement.ts';
import { keyRow, type Verb, verbRow } from '#grammar/vocabulary.ts';
import type { NameKind } from './model.ts';

/** One place where a line names a thing of the log. People (`by`) are apart and never declared. */
export interface Mention {
  readonly name: Name;
  /** What it does there: gives the name, is what the work was done to, or is told as a fact. */
  readonly as: 'declared' | 'target' | 'fact' | 'scope';
  /** What it must be. */
  readonly kinds: readonly NameKind[];
  readonly set?: SetRef;
}

const declares: Partial<Record<Verb, NameKind>> = { place: 'place', tree: 'tree', batch: 'batch', collect: 'lot' };

/** What kind of thing a line gives a name to; a second line under the name gives nothing. */
export const declaredKind = (verb: Verb): NameKind | undefined => declares[verb];

/** Every name on a line, in the order written within targets, facts and scopes. */
export function mentionsIn(statement: Statement): Mention[] {
  const found: Mention[] = [];
  const declared = declaredKind(statement.verb);
  if (statement.verb !== 'site') {
    statement.sets.forEach((set, i) => {
      if (declared && i === 0) found.push({ name: set.name, as: 'declared', kinds: [declared], set });
      else found.push({ name: set.name, as: 'target', kinds: actedOn(statement.verb), set });
    });
  }
  for (const fact of statement.facts) {
    const of = keyRow(fact.key).of;
    if (!of) continue;
    if (fact.value.kind === 'name') found.push({ name: fact.value.name, as: 'fact', kinds: [of] });
    if (fact.value.kind === 'names') for (const name of fact.value.names) found.push({ name, as: 'fact', kinds: [of] });
  }
  for (const scope of statement.scopes ?? [])
    if (scope.kind === 'set')
      found.push({ name: scope.set.name, as: 'scope', kinds: actedOn(statement.verb), set: scope.set });
  return found;
}

/** Kinds a verb's targets may have: `graft` in the vocabulary is a batch here. */
export function actedOn(verb: Verb): readonly NameKind[] {
  const known = acted.get(verb);
  if (known) return known;
  const kinds = (verbRow(verb).acts ?? []).map((target): NameKind => (target === 'graft' ? 'batch' : target));
  acted.set(verb, kinds);
  return kinds;
}

const acted = new Map<Verb, readonly NameKind[]>();
