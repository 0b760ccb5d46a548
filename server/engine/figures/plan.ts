import type { Day } from '#grammar/statement.ts';
import { isoDay } from '#grammar/values/date.ts';
import { greatest, least } from '#grammar/values/extremes.ts';
import { plan } from '#server/statistics/plan.ts';
import type { Counts } from '#server/statistics/share.ts';
import type { BatchHistory, Cohort } from '../model.ts';
import type { Practice, Subject } from '../practice.ts';
import { subjectOf } from '../subject.ts';
import type { FiguresEnv } from './env.ts';
import { byPair, levelOf, levelOfPiece } from './levels.ts';
import { type Needs, needsOf } from './needs.ts';
import { byBatch, clustersOf, firstDay, halfJudged, type Piece, piecesOf, total } from './pieces.ts';

export interface PlanAsked {
  readonly takes: number;
  /** 0..1 */
  readonly confidence: number;
  /** A batch, or a pair as it is written; absent: the nursery's whole record. */
  readonly like?: string;
  /** Over how many new batches it will be spread. */
  readonly batches: number;
  /** Hours there are a week, to hold the season's work against. */
  readonly hours?: number;
}

/** How many to graft, as `plan` gives it. */
export interface Plan {
  readonly takes: number;
  readonly confidence: number;
  /** Null where no number up to 1,000, or twenty for each take, will do. */
  readonly graft: number | null;
  /** With `graft`, or with the most that were looked at. */
  readonly chance: number;
  readonly expected: number | null;
  readonly batches: number;
  readonly because: {
    readonly prior: { readonly rate: number; readonly weight: number; readonly source: string };
    readonly judged: number;
    readonly batches: number;
    readonly effective: number;
    readonly spread: number;
    readonly mean: number;
    readonly naive: number;
  };
  readonly needs: Needs;
}

/** With it, what words want beside the JSON. */
export interface PlanResult {
  readonly plan: Plan;
  /** The most that were looked at. */
  readonly cap: number;
  /** What `naive` divides by: the own record's rate, else the prior. */
  readonly rate: number;
  /** What it is like; null for the whole record. */
  readonly like: string | null;
  /** Rates of the batches behind it, lowest and highest; null with fewer than two. */
  readonly range: { readonly low: number; readonly high: number } | null;
  /** Of other pairs of the same group and season, whose record stands between prior and own; null for the whole record. */
  readonly others: Counts | null;
  /** How many to graft over three batches; null where that is no fewer, or was asked for already. */
  readonly overThree: number | null;
}

/** How sure one wants to be where nobody says: nine times in ten. */
export const usualConfidence = 0.9;

/** Without a practice line: house defaults, said so. */
const bare = { rate: 0.6, weight: 4, source: 'house default' };

/**
 * How many to graft to have enough taken: from practice's prior over what other pairs of the same group and season did
 * to the pair's own record. Early takes are open, batches under half judged left out.
 *
 * @returns undefined where nothing on record is called like that
 */
export function planOf(histories: Iterable<BatchHistory>, asked: PlanAsked, env: FiguresEnv): PlanResult | undefined {
  const pieces = [...histories].flatMap((history) => piecesOf(history, env));
  const model = asked.like === undefined ? undefined : modelOf(asked.like, pieces, env);
  if (asked.like !== undefined && !model) return undefined;
  const judgedPieces = halfJudged(pieces);
  const records = model ? recordsLike(model, judgedPieces, env) : { others: [], own: groupsByPair(judgedPieces, env) };
  const subject = model ? subjectOf(model, model.madeDay, env.log, env.lots) : { day: env.day };
  const prior = priorOf(env.practice, subject);
  const ask = (clusters: number) =>
    plan({
      takes: asked.takes,
      confidence: asked.confidence,
      clusters,
      prior: prior.rate,
      weight: prior.weight,
      records: [records.others, records.own],
    });
  const found = ask(asked.batches);
  const own = records.own.flat().filter(({ judged }) => judged > 0);
  const { taken, judged } = total(own);
  const rate = taken > 0 ? taken / judged : prior.rate;
  const three = asked.batches < 3 ? ask(3).trials : null;
  return {
    plan: {
      takes: asked.takes,
      confidence: asked.confidence,
      graft: found.trials,
      chance: found.chance,
      expected: found.expected,
      batches: asked.batches,
      because: {
        prior,
        judged,
        batches: own.length,
        effective: found.effective,
        spread: found.spread,
        mean: found.mean,
        naive: Math.ceil(asked.takes / rate - 1e-9),
      },
      needs: needsOf(found.trials, model, subject, pieces, env, asked.hours),
    },
    cap: found.cap,
    rate,
    like: model ? levelOf('pair', model, env) : null,
    range: rangeOf(own),
    others: model ? total(records.others.flat()) : null,
    overThree: three !== null && found.trials !== null && three < found.trials ? three : null,
  };
}

/** As JSON: days as they are written in a log. */
export function planJson({ plan: found }: PlanResult) {
  const { places, season, ...needs } = found.needs;
  const days = <T extends { readonly from: Day; readonly to: Day | null }>(stretch: T) => ({
    ...stretch,
    from: isoDay(stretch.from),
    to: stretch.to === null ? null : isoDay(stretch.to),
  });
  return {
    ...found,
    needs: {
      ...needs,
      ...(places ? { places: places.map(days) } : {}),
      ...(season ? { season: { ...season, weeks: season.weeks.map(days) } } : {}),
    },
  };
}

function priorOf(practice: Practice, subject: Subject): Plan['because']['prior'] {
  const rate = practice.figure('prior', subject);
  const weight = practice.figure('weight', subject);
  return {
    rate: rate?.figure ?? bare.rate,
    weight: weight?.figure ?? bare.weight,
    source: rate?.row.source ?? bare.source,
  };
}

/** The newest graft of the batch, or of the pair: its season, method and place are what is planned for. */
function modelOf(like: string, pieces: readonly Piece[], env: FiguresEnv): Cohort | undefined {
  const wanted = plain(like);
  const cohorts = pieces.flatMap((piece) => piece.cohorts);
  const ofBatch = cohorts.filter(({ batch }) => plain(batch.name) === wanted);
  const found =
    ofBatch.length > 0 ? ofBatch : cohorts.filter((one) => plain(levelOf('pair', one, env) ?? '') === wanted);
  return found.reduce<Cohort | undefined>(
    (newest, one) => (newest && newest.madeDay >= one.madeDay ? newest : one),
    undefined,
  );
}

/** As people type it: case, kinds of quote and blanks don't matter. */
const plain = (text: string): string =>
  text.normalize('NFC').toLowerCase().replace(/[‘’]/g, "'").replace(/\s+/g, ' ').trim();

/** Records from wide to narrow, disjoint. */
function recordsLike(model: Cohort, pieces: readonly Piece[], env: FiguresEnv) {
  const [pair, season, method] = (['pair', 'season', 'method'] as const).map((key) => levelOf(key, model, env));
  const at = (key: 'pair' | 'season' | 'method', level: string | null | undefined) => (piece: Piece) =>
    levelOfPiece(key, piece, env) === level;
  const own = pieces.filter(at('pair', pair));
  const alike = own.filter(at('season', season)).filter(at('method', method));
  const others = pieces
    .filter((piece) => !at('pair', pair)(piece) && piece.cohorts[0].group === model.group)
    .filter(at('season', season));
  const closest = total(clustersOf(alike)).judged > 0 ? alike : own;
  return { others: groupsByPair(others, env), own: [clustersOf(closest)] };
}

/** Batches of each pair: how far they differ is measured inside pairs. */
const groupsByPair = (pieces: readonly Piece[], env: FiguresEnv): Counts[][] =>
  [...byPair(pieces, env).values()].map(clustersOf);

function rangeOf(own: readonly Counts[]): PlanResult['range'] {
  if (own.length < 2) return null;
  const rates = own.map(({ taken, judged }) => taken / judged);
  return { low: least(rates), high: greatest(rates) };
}

/** How many batches a year the nursery makes, and how many grafts; null where nothing is on record. */
export function paceOf(pieces: readonly Piece[]): { readonly batches: number; readonly grafts: number } | null {
  const batches = byBatch(pieces).size;
  if (batches === 0) return null;
  const days: Day[] = pieces.map(firstDay);
  const years = Math.max(1, (greatest(days) - least(days)) / 365.25);
  return { batches: batches / years, grafts: pieces.reduce((sum, piece) => sum + piece.counts.grafted, 0) / years };
}
