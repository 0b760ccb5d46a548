import { expected, type Finished } from '#server/statistics/expected.ts';
import { pooled } from '#server/statistics/pooled.ts';
import type { BatchFigures } from '../model.ts';
import type { Counts } from '../tally.ts';
import { figuresOf } from './batch.ts';
import type { FiguresEnv } from './env.ts';
import { type GroupKey, type Level, levelOf } from './levels.ts';
import { byBatch, clustersOf, firstDay, judgedBy, type Piece, push, sure, total } from './pieces.ts';

/** A group of grafts, as `stats` gives it; shares 0..1, null where nothing has been judged. */
export interface Group extends BatchFigures {
  readonly key: Readonly<Partial<Record<GroupKey, Level>>>;
  /** Grafts of sets that were counted over several levels: they are in none of them. */
  readonly excluded: number;
  /** Of one batch, the share taken in the end to expect, by what older ones did that were open at the same age. */
  readonly expected: number | null;
  /** Batches with something judged; where nothing is, those made. With one, `basis` is `batch`. */
  readonly batches: number;
  /** How many separate grafts several batches are worth, and how far they differ; null for one batch. */
  readonly effective: number | null;
  readonly spread: number | null;
  readonly basis: 'batch' | 'batches';
  /** Of several batches the names of those begun to be judged and less than half judged: losses are known before takes. */
  readonly young: readonly string[];
  /** Batches made of which nothing is judged, beside others that are. */
  readonly unjudged: number;
}

/**
 * Take rates by one or several keys. Where one batch alone is judged the group has its own figures, early takes kept as
 * taken; over several early takes are open, and the interval allows for batches that differ.
 *
 * @param record of the whole log: finished batches tell what those in progress come to
 * @returns groups by their levels, in natural order, those without a word last
 */
export function groupsOf(
  pieces: readonly Piece[],
  keys: readonly GroupKey[],
  env: FiguresEnv,
  record: readonly Piece[] = pieces,
): Group[] {
  const rows = new Map<string, { levels: readonly Level[]; pieces: Piece[]; excluded: number }>();
  const row = (levels: readonly Level[]) => {
    const id = JSON.stringify(levels);
    const known = rows.get(id) ?? { levels, pieces: [], excluded: 0 };
    rows.set(id, known);
    return known;
  };
  for (const piece of pieces) {
    const met = new Map<string, readonly Level[]>();
    for (const cohort of piece.cohorts) {
      const levels = keys.map((key) => levelOf(key, cohort, env));
      met.set(JSON.stringify(levels), levels);
    }
    const [only] = met.values();
    if (met.size === 1 && only) row(only).pieces.push(piece);
    else for (const levels of met.values()) row(levels).excluded += piece.counts.grafted;
  }
  const finished = finishedBatches(record);
  return [...rows.values()]
    .sort((a, b) => byLevels(a.levels, b.levels))
    .map(({ levels, pieces: own, excluded }) => ({
      key: Object.fromEntries(keys.map((key, i) => [key, levels[i] ?? null])),
      ...groupFigures(own, finished, env),
      excluded,
    }));
}

function groupFigures(own: readonly Piece[], finished: ReadonlyMap<string, Piece[][]>, env: FiguresEnv) {
  const counts = own.reduce(plus, none);
  const batches = [...byBatch(own).values()];
  const judged = batches.filter((batch) => batch.some((piece) => piece.counts.taken + piece.counts.failed > 0));
  if (judged.length < 2) {
    return {
      ...figuresOf(counts),
      expected: batches.length === 1 ? expectedOf(own, finished, env) : null,
      batches: judged.length || batches.length,
      effective: null,
      spread: null,
      basis: 'batch' as const,
      young: [],
      unjudged: judged.length === 0 ? 0 : batches.length - judged.length,
    };
  }
  const clusters = clustersOf(own);
  const made = batches.map((batch) => batch.reduce((sum, piece) => sum + piece.counts.grafted, 0));
  const taken = counts.taken - counts.early;
  const open = counts.grafted - taken - counts.failed;
  const rate = pooled(clusters);
  const lowest = pooled(clusters.map((one, i) => ({ taken: one.taken, judged: made[i] ?? 0 })));
  const highest = pooled(
    clusters.map((one, i) => ({ taken: (made[i] ?? 0) - (one.judged - one.taken), judged: made[i] ?? 0 })),
  );
  return {
    ...figuresOf({ ...counts, taken }),
    open,
    rate: rate?.rate ?? null,
    low: rate?.low ?? null,
    high: rate?.high ?? null,
    outer: lowest && highest ? { low: lowest.low, high: highest.high } : null,
    expected: null,
    batches: judged.length,
    effective: rate?.effective ?? null,
    spread: rate?.spread ?? null,
    basis: 'batches' as const,
    unjudged: batches.length - judged.length,
    young: batches.flatMap((batch, i) => {
      const { judged: sofar } = total(batch.map(sure));
      return sofar > 0 && sofar * 2 < (made[i] ?? 0) && batch[0] ? [batch[0].history.batch.name] : [];
    }),
  };
}

/** What those of a batch that are still open come to, each by its own age. */
function expectedOf(own: readonly Piece[], finished: ReadonlyMap<string, Piece[][]>, env: FiguresEnv): number | null {
  const group = own[0]?.cohorts[0].group;
  const older = group === undefined ? undefined : finished.get(group);
  let grafted = 0;
  let taken = 0;
  let openLeft = 0;
  for (const piece of own) {
    const { counts } = piece;
    const open = counts.grafted - counts.taken - counts.failed;
    grafted += counts.grafted;
    taken += counts.taken;
    openLeft += open;
    if (open === 0) continue;
    const found = expected(open, 0, open, older ? openAtAge(older, env.day - firstDay(piece)) : []);
    if (!found) return null;
    taken += found.estimate * open;
  }
  return openLeft > 0 ? taken / grafted : null;
}

/** Many batches are made on few days, so what older ones were at an age is asked over and over. */
function openAtAge(older: readonly (readonly Piece[])[], age: number): readonly Finished[] {
  const ages = agesOf.get(older) ?? new Map<number, readonly Finished[]>();
  agesOf.set(older, ages);
  const found = ages.get(age) ?? older.map((batch) => openAt(batch, age));
  ages.set(age, found);
  return found;
}

const agesOf = new WeakMap<readonly (readonly Piece[])[], Map<number, readonly Finished[]>>();

function openAt(batch: readonly Piece[], age: number): Finished {
  let stillOpen = 0;
  let laterTaken = 0;
  for (const piece of batch) {
    const then = judgedBy(piece, firstDay(piece) + age);
    const open = piece.counts.grafted - then.taken - then.failed;
    stillOpen += open;
    laterTaken += Math.min(open, Math.max(0, piece.counts.taken - then.taken));
  }
  return { stillOpen, laterTaken };
}

/** Batches of which every graft is judged, by the practice group of their plants; found once a record. */
function finishedBatches(pieces: readonly Piece[]): ReadonlyMap<string, Piece[][]> {
  const known = finishedOf.get(pieces);
  if (known) return known;
  const finished = new Map<string, Piece[][]>();
  finishedOf.set(pieces, finished);
  for (const batch of byBatch(pieces).values()) {
    const group = batch[0]?.cohorts[0].group;
    const done = batch.every(({ counts }) => counts.grafted === counts.taken + counts.failed);
    if (group !== undefined && done) push(finished, group, batch);
  }
  return finished;
}

const finishedOf = new WeakMap<readonly Piece[], ReadonlyMap<string, Piece[][]>>();

const none: Counts = { grafted: 0, taken: 0, failed: 0, sold: 0, late: 0, early: 0, causes: {} };

function plus(sum: Counts, { counts }: Piece): Counts {
  const causes = { ...sum.causes };
  for (const [cause, count] of Object.entries(counts.causes)) causes[cause] = (causes[cause] ?? 0) + count;
  return {
    grafted: sum.grafted + counts.grafted,
    taken: sum.taken + counts.taken,
    failed: sum.failed + counts.failed,
    sold: sum.sold + counts.sold,
    late: sum.late + counts.late,
    early: sum.early + counts.early,
    causes,
  };
}

function byLevels(a: readonly Level[], b: readonly Level[]): number {
  for (const [i, level] of a.entries()) {
    const order = byLevel(level, b[i] ?? null);
    if (order !== 0) return order;
  }
  return 0;
}

/** Natural order (`K9` before `K10`), nothing written last. */
export function byLevel(a: Level, b: Level): number {
  if (a === null || b === null) return Number(a === null) - Number(b === null);
  return a.localeCompare(b, 'en', { numeric: true });
}
