import { fromDay, isoDay } from '#grammar/values/date.ts';
import { methods, seasons } from '#grammar/vocabulary.ts';
import { amountOf, rangeOf, wordOf } from '../checks/case.ts';
import { depthOf } from '../checks/depth.ts';
import { stayOn } from '../cover.ts';
import type { Cohort, Found } from '../model.ts';
import type { Limit, LimitKey } from '../practice.ts';
import { subjectOf, thicknessOf } from '../subject.ts';
import { seasonOf } from '../year.ts';
import type { FiguresEnv } from './env.ts';
import { type Piece, push } from './pieces.ts';

/** What grafts can be grouped and compared by (`stats --by`, `--compare`). */
export const groupKeys = [
  ...(['batch', 'pair', 'scion', 'understock', 'genus', 'method', 'season', 'year', 'day', 'hand'] as const),
  ...(['place', 'lot', 'wood', 'label', 'depth', 'store', 'long', 'whorls'] as const),
] as const;
export type GroupKey = (typeof groupKeys)[number];

/** A level as it is shown: a method, a hand's initials, `2027`, `below`; null where nobody wrote it. */
export type Level = string | null;

/** A batch is of one season, store and plant: two such levels never meet in one sitting. */
const ofWholeBatches: ReadonlySet<GroupKey> = new Set<GroupKey>([
  ...(['batch', 'pair', 'scion', 'understock', 'genus', 'season', 'year', 'day', 'store'] as const),
]);
export const sharesSitting = (key: GroupKey): boolean => !ofWholeBatches.has(key);

/** Levels that are words of the notation, on record or not. */
export const wordsOfKey: Readonly<Partial<Record<GroupKey, readonly string[]>>> = { method: methods, season: seasons };

/**
 * The level of a graft in a key. Of `depth`, `long` and `whorls` it is `below`, `inside` or `above` what practice asks of
 * such a graft, of `store` `inside` or `over`; null where practice asks nothing.
 */
export function levelOf(key: GroupKey, cohort: Cohort, env: FiguresEnv): Level {
  let cohorts = known.get(env);
  if (!cohorts) {
    cohorts = new WeakMap();
    known.set(env, cohorts);
  }
  let levels = cohorts.get(cohort);
  if (!levels) {
    levels = new Map();
    cohorts.set(cohort, levels);
  }
  let level = levels.get(key);
  if (level === undefined) {
    level = readLevel(key, cohort, env);
    levels.set(key, level);
  }
  return level;
}

/** Worked out once, as each comparison asks every key of every graft again; after an edit there is another env. */
const known = new WeakMap<FiguresEnv, WeakMap<Cohort, Map<GroupKey, Level>>>();

function readLevel(key: GroupKey, cohort: Cohort, env: FiguresEnv): Level {
  switch (key) {
    case 'batch':
      return cohort.batch.name;
    case 'pair':
      return pairText(cohort);
    case 'scion':
      return cohort.scion?.text ?? null;
    case 'understock':
      return cohort.stock?.text ?? null;
    case 'genus':
      return cohort.scion?.genus ?? null;
    case 'method':
      return cohort.method ?? null;
    case 'season':
      return (
        seasonOf(cohort.madeDay, subjectOf(cohort, cohort.madeDay, env.log, env.lots).lat?.(cohort.madeDay)) ?? null
      );
    case 'year':
      return String(fromDay(cohort.madeDay).year);
    case 'day':
      return isoDay(cohort.madeDay);
    case 'hand':
      return cohort.hand ?? null;
    case 'place':
      return placeOf(cohort, env);
    case 'lot':
      return env.lots.ofCohort(cohort)?.name ?? null;
    case 'wood':
      return wordOf(factOf('wood', cohort, env)) ?? null;
    case 'label': {
      const label = cohort.fact('label');
      return label && !label.fact.lost && label.fact.value.kind === 'text' ? label.fact.value.text : null;
    }
    default:
      return classOf(key, cohort, env);
  }
}

/** One level of all a piece's cohorts; undefined where they differ and nobody knows which were lost. */
export function levelOfPiece(key: GroupKey, { cohorts }: Piece, env: FiguresEnv): Level | undefined {
  const [first, ...rest] = cohorts;
  const level = levelOf(key, first, env);
  return rest.every((cohort) => levelOf(key, cohort, env) === level) ? level : undefined;
}

/** Pieces of each pair; those of no pair that is told are one, too. */
export function byPair(pieces: readonly Piece[], env: FiguresEnv): Map<Level, Piece[]> {
  const pairs = new Map<Level, Piece[]>();
  for (const piece of pieces) push(pairs, levelOfPiece('pair', piece, env) ?? null, piece);
  return pairs;
}

function pairText({ scion, interstem, stock }: Cohort): Level {
  if (!scion) return null;
  return [scion, interstem, stock].flatMap((taxon) => (taxon ? [taxon.text] : [])).join(' / ');
}

function placeOf(cohort: Cohort, { log }: FiguresEnv): Level {
  const place = stayOn(cohort, cohort.madeDay)?.place;
  return place === undefined ? null : (log.names.declared(place)?.name ?? place);
}

export type NumberKey = 'depth' | 'store' | 'long' | 'whorls' | 'scion-size';

/** A fact as a number, of an interval its middle: depth as a share, `store` in days, lengths in mm. */
export function numberOf(key: NumberKey, cohort: Cohort, env: FiguresEnv): number | null {
  switch (key) {
    case 'depth':
      return middle(depthOf({ fact: (wanted) => cohort.fact(wanted) })?.share);
    case 'store': {
      const cut = env.lots.ofCohort(cohort)?.day;
      return cut === undefined || cut > cohort.madeDay ? null : cohort.madeDay - cut;
    }
    case 'scion-size':
      return middle(thicknessOf(factOf('scion', cohort, env)));
    default:
      return middle(rangeOf(amountOf(cohort.fact(key))));
  }
}

const limitOf = { depth: 'cut', store: 'stored', long: 'long', whorls: 'whorls' } as const satisfies Record<
  string,
  LimitKey
>;

function classOf(key: keyof typeof limitOf, cohort: Cohort, env: FiguresEnv): Level {
  const found = env.practice.limits(limitOf[key], subjectOf(cohort, cohort.madeDay, env.log, env.lots));
  let low = Number.NEGATIVE_INFINITY;
  let high = Number.POSITIVE_INFINITY;
  let value: number | null = null;
  for (const limit of found) {
    const scale = scaleOf(key, limit, cohort, env);
    const measured = measuredBy(key, limit, cohort, env);
    if (scale === null || measured === null) continue;
    value = measured;
    if (limit.low !== undefined) low = Math.max(low, limit.low * scale);
    if (limit.high !== undefined) high = Math.min(high, limit.high * scale);
  }
  if (value === null) return null;
  if (key === 'store') return value > high + rounding ? 'over' : 'inside';
  return value < low - rounding ? 'below' : value > high + rounding ? 'above' : 'inside';
}

/** Limits are inclusive, whatever a share's last digit is. */
const rounding = 1e-9;

/** A depth that practice gives in mm is measured in mm. */
function measuredBy(key: keyof typeof limitOf, limit: Limit, cohort: Cohort, env: FiguresEnv): number | null {
  if (key !== 'depth' || limit.amount.measure === 'share') return numberOf(key, cohort, env);
  return middle(depthOf({ fact: (wanted) => cohort.fact(wanted) })?.length);
}

/** A face may be asked for in scion diameters. */
function scaleOf(key: keyof typeof limitOf, limit: Limit, cohort: Cohort, env: FiguresEnv): number | null {
  return key === 'long' && limit.row.key === 'long-ratio' ? numberOf('scion-size', cohort, env) : 1;
}

/** The graft's own fact, else that of its wood. */
function factOf(key: 'wood' | 'scion', cohort: Cohort, env: FiguresEnv): Found | undefined {
  return cohort.fact(key) ?? env.lots.ofCohort(cohort)?.fact(key);
}

function middle(range: { readonly low: number; readonly high: number } | undefined): number | null {
  return range ? (range.low + range.high) / 2 : null;
}
