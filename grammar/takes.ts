import { expectedAfter, expectedShare, expectedTarget } from './expected.ts';
import { factsOf, type Key, keyRow, type Verb, verbRow } from './vocabulary.ts';

/** One thing a line takes, as it is shown in a row of them. */
export interface Taken {
  /** Absent: what the verb acts on, for whom a rule is, plants, or a remark. */
  readonly key?: Key;
  readonly what: 'target' | 'scope' | 'plants' | 'fact' | 'remark';
  readonly label: string;
  readonly help: string;
}

const targetWords = { graft: 'grafts', tree: 'tree', place: 'place', lot: 'lot' } as const;
/** So many choices are told one by one. */
const fewChoices = 4;

/** All that a verb's line takes, in the vocabulary's order: what it acts on first, a remark last. */
export function takenBy(verb: Verb): Taken[] {
  const { operand, acts, kind, taxa } = verbRow(verb);
  const taken: Taken[] = [];
  if (operand !== 'none' && operand !== 'scopes') {
    const label = operand === 'name' ? 'name' : (acts ?? []).map((target) => targetWords[target]).join('|');
    taken.push({ what: 'target', label, help: expectedTarget(verb) });
  }
  if (verb === 'weather') taken.push({ what: 'target', label: '"station.csv"', help: expectedTarget(verb) });
  if (verb === 'accept') taken.push({ what: 'target', label: 'codes', help: expectedTarget(verb) });
  if (operand === 'scopes') taken.push({ what: 'scope', label: 'for whom', help: verbRow(verb).help });
  if (taxa && operand !== 'scopes')
    taken.push({ what: 'plants', label: 'plants', help: 'Which plants: `Pinus parviflora / Pinus thunbergii`.' });
  for (const key of factsOf(verb)) {
    const label = labelOf(key);
    if (label) taken.push({ key, what: 'fact', label, help: helpOf(key, verb) });
  }
  if (kind === 'work') taken.push({ what: 'remark', label: '"remark"', help: 'Anything else, in double quotes.' });
  return taken;
}

function labelOf(key: Key): string {
  const { keyless, choices = [], example } = keyRow(key);
  if (key === 'share' || key === 'count') return example;
  if (!keyless) return example === '' ? '' : key;
  const shown = choices.slice(0, fewChoices).join('|');
  return choices.length > fewChoices ? `${shown}|…` : shown;
}

function helpOf(key: Key, verb: Verb): string {
  if (key === 'share') return expectedShare(verb);
  const { value, keyless, help, choices = [] } = keyRow(key);
  if (keyless) return `${help} One of ${choices.map((choice) => `\`${choice}\``).join(', ')}.`;
  return value === 'flag' || key === 'count' ? help : `${help} ${expectedAfter(key, verb)}`;
}
