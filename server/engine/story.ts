import type { Day, Statement } from '#grammar/statement.ts';
import type { Verb } from '#grammar/vocabulary.ts';
import { factOf, namedIn, shareOf, wordIn } from './facts.ts';
import type { Cohort, Entry, Visit } from './model.ts';
import { percent } from './say.ts';

/** One thing a set went through, for the hover. */
export interface StoryLine {
  readonly day: Day;
  readonly entry: Entry;
  /** In the notation's verbs: `open 20 %`, `check dry`, `fail dried`. */
  readonly words: string;
}

/** What a cohort went through, oldest first. Lines on its place stay out, but for those that reached its shelter. */
export function storyOf(cohort: Cohort): StoryLine[] {
  return cohort.visits.filter(told).map(({ day, entry, statement, undivided }) => ({
    day,
    entry,
    words: undivided ? `${storyWords(statement)}, some of them` : storyWords(statement),
  }));
}

const onPlaces: ReadonlySet<Verb> = new Set<Verb>(['cover', 'uncover', 'check', 'open', 'treat']);

/** It named them, or reached their shelter: other lines on their place are no part of their story. */
export const told = (visit: Visit): boolean => visit.via !== 'place' || onPlaces.has(visit.verb);

/** A line of work in a few words, without its set. */
function storyWords(statement: Statement): string {
  const words: string[] = [statement.verb];
  const share = shareOf(statement);
  if (share !== undefined) words.push(percent(share));
  const cause = wordIn(factOf(statement, 'cause'));
  if (cause) words.push(cause);
  const to = namedIn(factOf(statement, 'to'));
  if (to) words.push(`to ${to.text}`);
  for (const fact of statement.facts) if (fact.value.kind === 'flag' && !fact.lost) words.push(fact.key);
  if (statement.remark) words.push(`“${statement.remark.text}”`);
  return words.join(' ');
}
