import { intersect, normalize, size, subtract, union } from '#grammar/values/intervals.ts';
import { graftsText } from '../grafts-text.ts';
import type { BatchHistory, Cohort, Entry, WorkItem } from '../model.ts';
import { byHistory } from '../order.ts';
import { countedIn } from '../tally.ts';
import type { WorkEnv } from './env.ts';
import { stateOn, type Task } from './task.ts';

/** A piece of work and the grafts it is for. */
export interface Piece {
  readonly task: Task;
  readonly cohort: Cohort;
  /** Minutes a graft. */
  readonly minutes: number;
}

/** A piece of the work list, and what only the `overdue` finding asks. */
export interface Listed extends WorkItem {
  readonly pieces: readonly Piece[];
}

/**
 * Pieces alike in all but the last line that names their set are one: the sets together, the latest line, the living. Hands that differ are not told.
 */
export function join(pieces: readonly Piece[], history: BatchHistory, env: WorkEnv): readonly Listed[] {
  const groups = new Map<string, Piece[]>();
  for (const piece of pieces) {
    const { what, from, by, to, rule, waits, said } = piece.task;
    const place = placeOf(piece.cohort, env);
    const key = [what, from, by, to?.low, to?.high, waits, said, rule.order, place?.key ?? ''].join(' ');
    const group = groups.get(key);
    if (group) group.push(piece);
    else groups.set(key, [piece]);
  }
  return [...groups.values()]
    .flatMap((group) => joined(group, history, env) ?? [])
    .sort((a, b) => a.from - b.from || a.by - b.by || (a.numbers[0] ?? 0) - (b.numbers[0] ?? 0));
}

/** Pieces alike in their task as one; nothing where none of the grafts lives. */
export function joined(pieces: readonly Piece[], history: BatchHistory, env: WorkEnv): Listed | undefined {
  const sorted = pieces
    .map((piece) => ({ ...piece, entry: lastNaming(piece.cohort) }))
    .sort((a, b) => byHistory(a.entry, b.entry));
  const latest = sorted.at(-1);
  if (!latest) return undefined;
  const { task, cohort, entry } = latest;
  const numbers = normalize(sorted.flatMap((piece) => piece.cohort.numbers));
  const count = livingOf(numbers, history);
  if (count <= 0) return undefined;
  const all = sorted.reduce((sum, piece) => sum + piece.minutes * size(piece.cohort.numbers), 0);
  const hands = new Set(sorted.map((piece) => piece.cohort.hand ?? ''));
  const { what, from, by, to, why, rule, waits, renews } = task;
  return {
    what,
    batch: cohort.batch,
    numbers,
    grafts: graftsText(cohort.batch, numbers),
    count,
    place: placeOf(cohort, env)?.name ?? null,
    hand: hands.size === 1 ? handOf(cohort) : null,
    from,
    by,
    state: stateOn(env.day, { from, by }),
    waits,
    to,
    entry,
    why,
    ...(renews ? { renews } : {}),
    practice: rule.entry,
    // a tenth of a minute a graft adds up to 20.400000000000002
    minutes: Math.round(((all * count) / size(numbers)) * 1e6) / 1e6,
    pieces,
  };
}

/** The last line that names the set; one on its tree does, one on its place does not. */
const lastNaming = ({ named, made }: Cohort): Entry => named.at(-1)?.entry ?? made;

function placeOf({ stays }: Cohort, { log }: WorkEnv): { readonly key: string; readonly name: string } | undefined {
  const key = stays.at(-1)?.place;
  return key === undefined ? undefined : { key, name: log.names.declared(key)?.name ?? key };
}

/** Who made them, as it is written there. */
function handOf(cohort: Cohort): string | null {
  const value = cohort.fact('by')?.fact.value;
  if (value?.kind !== 'names') return cohort.hand ?? null;
  return value.names.map((name) => name.text).join(',');
}

/**
 * How many of a set live and are still here, as far as it can be told: counted losses and sales come off it where they
 * can't lie outside. A named loss is one more than the counted ones, and a loss counted over grafts that
 * were taken by name is one of those still to judge.
 */
export function livingOf(numbers: Cohort['numbers'], { cohorts, tallies }: BatchHistory): number {
  if (tallies.length === 0) return size(numbers);
  let named: Cohort['numbers'] = [];
  for (const { numbers: some, fail, take, sold, counted } of cohorts) {
    if (counted) continue;
    if (fail || sold !== undefined) named = union(named, some);
    else if (take !== undefined && intersect(some, numbers).length === 0) named = union(named, some);
  }
  const outside = subtract(named, numbers);
  const gone = countedIn(tallies, 'fail', numbers, outside) + countedIn(tallies, 'sell', numbers, outside);
  return Math.max(0, size(numbers) - gone);
}
