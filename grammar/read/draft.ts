import type { Mend, Problem } from '../finding.ts';
import type { Fact, SetRef, Statement } from '../statement.ts';
import { type Key, keyRow } from '../vocabulary.ts';

/** A statement while its pieces are being read. */
export type Draft = { -readonly [K in keyof Statement]: Statement[K] } & { sets: SetRef[]; facts: Fact[] };

/** Two spellings of one rule. */
const oneKey = (key: Key): Key => (key === 'long-ratio' ? 'long' : key);

/** A key twice on a line contradicts itself, whatever the values. In `practice` a line may hold several keys, each once. */
export function addFact(draft: Draft, fact: Fact, problems: Problem[]): void {
  const earlier = draft.facts.find((other) => oneKey(other.key) === oneKey(fact.key));
  if (!earlier || keyRow(fact.key).repeats) {
    draft.facts.push(fact);
    return;
  }
  const [first, second] = [wordIn(earlier), wordIn(fact)];
  const what = first === second ? `\`${first}\` twice` : `\`${first}\` and \`${second}\``;
  problems.push({
    code: 'contradiction',
    severity: 'error',
    span: fact.span,
    message: `${what} on one line: one of them holds.`,
    mends: [without(fact, `Take out the second \`${second}\``), without(earlier, `Take out the first \`${first}\``)],
  });
}

const wordIn = ({ key, value }: Fact): string => {
  if (value.kind === 'word') return value.word;
  return key === 'amount' && value.kind === 'text' ? value.text : key;
};

const without = (fact: Fact, title: string): Mend => ({ title, edits: [{ span: fact.span, text: '' }] });
