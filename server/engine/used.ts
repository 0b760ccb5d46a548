import type { Fact, Scope, Statement, Taxa } from '#grammar/statement.ts';
import { allVerbs, factsOf, type Key, keyRow, type Verb } from '#grammar/vocabulary.ts';
import type { Log } from './log.ts';
import { mentionsIn } from './mentions.ts';
import type { Entry, NameKind } from './model.ts';
import { byCodePoint } from './order.ts';
import { shippedLines } from './practice.ts';

/** How far back is looked: what was written longer ago is no habit any more, and a long log costs no more than a short one. */
const linesBack = 200;
const few = 5;

/** What a line is being written for: its verb, its batch where it has one, and the line itself, which tells nothing new. */
export interface Writing {
  readonly verb: Verb;
  readonly batch?: string;
  readonly entry?: Entry;
}

/** Lines written last, newest first: those on the same batch, then any with this verb. */
function* lately(log: Log, { verb, batch, entry }: Writing): Generator<Entry> {
  const seen = new Set<Entry>(entry ? [entry] : []);
  const onBatch = batch === undefined ? [] : (log.names.workOn(batch)?.all ?? []);
  for (const lines of [onBatch, log.names.withVerb(verb)]) {
    for (let i = lines.length - 1, end = lines.length - linesBack; i >= 0 && i >= end; i--) {
      const line = lines[i] as Entry;
      if (line.line.statement?.verb !== verb || seen.has(line)) continue;
      seen.add(line);
      yield line;
    }
  }
}

/** Values of a key as they were written last, newest first: with this verb, else with another that takes the key. */
export function lastValues(log: Log, key: Key, writing: Writing): string[] {
  const found = new Set<string>();
  const others = allVerbs.filter((verb) => verb !== writing.verb && takers(key).includes(verb));
  for (const verb of [writing.verb, ...others]) {
    for (const entry of lately(log, { ...writing, verb })) {
      for (const fact of entry.line.statement?.facts ?? []) {
        if (fact.key !== key || fact.lost || fact.value.kind === 'flag') continue;
        found.add(valueText(entry, fact));
        if (found.size === few) return [...found];
      }
    }
    if (found.size > 0) break;
  }
  return [...found];
}

/** Values of a rule's key: of the nursery's own rules, newest first, then as shipped; rules for the same grafts first. */
export function ruleValues(log: Log, key: Key, { scopes = [] }: Statement, writing: Writing): string[] {
  const asked = scopesText(scopes);
  const [same, others] = [new Set<string>(), new Set<string>()];
  for (const entry of [...lately(log, writing), ...shippedLines()]) {
    const { statement } = entry.line;
    if (statement?.verb !== 'practice') continue;
    const fact = statement.facts.find((one) => one.key === key && !one.lost && one.value.kind !== 'flag');
    if (fact) (scopesText(statement.scopes ?? []) === asked ? same : others).add(valueText(entry, fact));
  }
  return [...new Set([...same, ...others])].slice(0, few);
}

const scopesText = (scopes: readonly Scope[]): string =>
  scopes
    .map((scope) =>
      'words' in scope
        ? scope.words.join(',')
        : scope.kind === 'plant'
          ? scope.taxon.text
          : scope.kind === 'set'
            ? scope.set.name.key
            : scope.kind,
    )
    .sort(byCodePoint)
    .join(' ');

const valueText = ({ line }: Entry, { valueSpan }: Fact): string => line.text.slice(valueSpan.start, valueSpan.end);

const takersOf = new Map<Key, readonly Verb[]>();

/** Verbs whose lines take a key: the grafting first, as most is written there. */
function takers(key: Key): readonly Verb[] {
  const known = takersOf.get(key);
  if (known) return known;
  const verbs = allVerbs.filter((verb) => factsOf(verb).includes(key));
  takersOf.set(key, verbs);
  return verbs;
}

/** Keys that lines like this one have as a rule, in the order of the last of them, each with its value there, if it had one. */
export function usual(log: Log, writing: Writing): ReadonlyMap<Key, string> {
  const found = new Map<Key, string>();
  for (const entry of lately(log, writing))
    for (const fact of entry.line.statement?.facts ?? [])
      if (!fact.lost && !keyRow(fact.key).repeats && !found.has(fact.key))
        found.set(fact.key, fact.value.kind === 'flag' ? '' : valueText(entry, fact));
  return found;
}

/** Names that lines with a verb acted on or gave last, newest first; `as` a fact: those that stood behind a key there. */
export function lastNames(log: Log, kinds: readonly NameKind[], writing: Writing, key?: Key): string[] {
  const found = new Set<string>();
  for (const entry of lately(log, writing)) {
    const { statement } = entry.line;
    if (!statement) continue;
    const of = key === undefined ? undefined : statement.facts.filter((fact) => fact.key === key);
    for (const mention of mentionsIn(statement)) {
      if (of ? !of.some(({ span }) => inside(mention.name.span.start, span)) : mention.as === 'fact') continue;
      const declared = log.names.declared(mention.name.key);
      if (declared && kinds.includes(declared.kind)) found.add(mention.name.key);
    }
  }
  return [...found];
}

const inside = (at: number, span: Fact['span']) => at >= span.start && at < span.end;

/** Plants as they were written last on lines that say which: batches, trees, lots, pairs. */
export const lastPlants = (log: Log, writing: Writing): string[] =>
  plantsOf(log, writing, ({ span }, text) => text.slice(span.start, span.end));

/** Understocks of the same lines, each by itself. */
export const lastStocks = (log: Log, writing: Writing): string[] => plantsOf(log, writing, ({ stock }) => stock?.text);

function plantsOf(log: Log, { verb, entry }: Writing, of: (taxa: Taxa, text: string) => string | undefined): string[] {
  const found = new Set<string>();
  for (const one of [verb, ...(['batch', 'tree', 'collect', 'pair'] as const)]) {
    for (const { line } of lately(log, { verb: one, ...(entry ? { entry } : {}) })) {
      const plant = line.statement?.taxa && of(line.statement.taxa, line.text);
      if (plant) found.add(plant);
      if (found.size === few * 2) return [...found];
    }
  }
  return [...found];
}
