import type { Span } from './finding.ts';
import type { Fact, SetRef, Statement } from './statement.ts';
import { keyRow, type ValueForm } from './vocabulary.ts';

/** A piece behind the verb, with what the layout has to know of it. */
export interface Stretch {
  readonly span: Span;
  /** In a list commas between words say something, before its first word they don't. */
  readonly list?: 'words' | 'keyed' | 'pair';
  /** Days of the year stand in it; elsewhere `bay-1` is a name. */
  readonly yearDays?: boolean;
}

/** What has a place of its own behind the verb: a set, a fact, a remark, or more of them that are laid out as one. */
export type Placed = Fact | Stretch;

const listed: ReadonlySet<ValueForm> = new Set(['names', 'hands', 'code', 'year', 'work', 'events', 'covers']);

/** Everything behind the verb, in the order written; what the statement holds is given as it is. */
export function placedIn({ sets, scopes, codes, taxa, facts, remark, spare }: Statement): Placed[] {
  const placed: Placed[] = [];
  for (const set of sets) {
    placed.push(set);
    if (set.count && set.count.span.start >= set.span.end) placed.push({ span: set.count.span });
  }
  if (scopes) placed.push(...scopeStretches(scopes));
  const [first, last] = [codes?.[0], codes?.at(-1)];
  if (first && last) placed.push({ span: { start: first.span.start, end: last.span.end }, list: 'words' });
  if (taxa) placed.push({ span: taxa.span, list: 'pair' });
  for (const fact of facts) placed.push(fact);
  if (remark) placed.push(remark);
  if (spare) placed.push(...spare);
  return isInOrder(placed) ? placed : placed.sort((a, b) => a.span.start - b.span.start);
}

/** What the line acts on, where that comes first behind the verb; `undefined` where something else does. */
export function targetOf({ sets, scopes, codes, taxa, facts, remark, spare }: Statement): SetRef | undefined {
  const target = sets[0];
  if (!target) return undefined;
  const { start } = target.span;
  const first = (placed: Placed | undefined) => placed === undefined || placed.span.start > start;
  const alone = first(facts[0]) && first(taxa) && first(remark) && first(scopes?.[0]) && first(codes?.[0]);
  return alone && (spare === undefined || spare.every(first)) ? target : undefined;
}

function isInOrder(placed: readonly Placed[]): boolean {
  let last = 0;
  for (const { span } of placed) {
    if (span.start < last) return false;
    last = span.start;
  }
  return true;
}

export function stretchOf(placed: Placed): Stretch {
  if (!('valueSpan' in placed)) return placed;
  const { key, value, span } = placed;
  const yearDays = value.kind === 'year' || value.kind === 'dates';
  return listed.has(keyRow(key).value) ? { span, list: 'keyed', yearDays } : { span, yearDays };
}

/** Without the comma between them a genus and the name behind it, `Abies,koreana`, would be one plant. */
function scopeStretches(scopes: NonNullable<Statement['scopes']>): Stretch[] {
  const stretches: Stretch[] = [];
  for (const [i, { kind, span }] of scopes.entries()) {
    const joined = kind === 'set' && scopes[i - 1]?.kind === 'plant' && stretches.at(-1)?.span.end === span.start - 1;
    const plant = joined ? stretches.pop()?.span : undefined;
    stretches.push(plant ? { span: { start: plant.start, end: span.end }, list: 'words' } : { span });
  }
  return stretches;
}
