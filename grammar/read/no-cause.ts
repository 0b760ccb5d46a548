import { factsOf, keyRow, type Verb } from '../vocabulary.ts';

/** What may stand where a word is no cause of loss; undefined for verbs without one. */
export function noCause(word: string, verb: Verb): string | undefined {
  if (!factsOf(verb).includes('cause')) return undefined;
  const causes = (keyRow('cause').choices ?? []).map((cause) => `\`${cause}\``);
  return `\`${word}\` is no cause: ${causes.slice(0, -1).join(' ')} or ${causes.at(-1)}, or leave it out.`;
}
