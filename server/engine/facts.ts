import type { Fact, Name, Statement } from '#grammar/statement.ts';
import type { Key } from '#grammar/vocabulary.ts';

/** A line's fact; where a key stands twice the first holds (the second is a contradiction). */
export function factOf(statement: Statement | undefined, key: Key): Fact | undefined {
  return statement?.facts.find((fact) => fact.key === key);
}

/** The thing a fact names, `in frame`; nothing where its value is lost. */
export function namedIn(fact: Fact | undefined): Name | undefined {
  return fact && !fact.lost && fact.value.kind === 'name' ? fact.value.name : undefined;
}

export function namesIn(fact: Fact | undefined): readonly Name[] {
  return fact && !fact.lost && fact.value.kind === 'names' ? fact.value.names : [];
}

/** A choice of the vocabulary: method, side, wood, cause. */
export function wordIn(fact: Fact | undefined): string | undefined {
  return fact && !fact.lost && fact.value.kind === 'word' ? fact.value.word : undefined;
}

/** How far it is now, 0..1: of a share given as an interval the upper end. */
export function shareOf(statement: Statement): number | undefined {
  const fact = factOf(statement, 'share');
  if (!fact || fact.lost || fact.value.kind !== 'amount') return undefined;
  return fact.value.high ?? fact.value.low;
}
