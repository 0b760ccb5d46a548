import { type AtValue, type Slope, slope } from '#server/statistics/slope.ts';
import type { FiguresEnv } from './env.ts';
import { type NumberKey, numberOf } from './levels.ts';
import { byBatch, type Piece, sure } from './pieces.ts';

/** Whether more of a fact went with more takes in the same batch, as `stats` gives it. */
export interface FactSlope extends Omit<Slope, 'clusters'> {
  readonly fact: NumberKey;
  readonly batches: number;
  /** `slope`, `low` and `high` are log odds for so much of the fact: 0.1 is ten points of depth, else days, mm, whorls. */
  readonly per: number;
}

/** So much of a fact as one changes at a time. */
const steps: Readonly<Record<NumberKey, number>> = { depth: 0.1, store: 10, long: 10, whorls: 1, 'scion-size': 1 };

/**
 * One fact at a time, each batch compared with itself only. Early takes are open; sets counted over several values are
 * left out.
 *
 * @returns one for each fact that is on record; its word says where too little is
 */
export function slopesOf(pieces: readonly Piece[], facts: readonly NumberKey[], env: FiguresEnv): FactSlope[] {
  return facts.flatMap((fact) => {
    const batches = [...byBatch(pieces).values()].map((own) => own.flatMap((piece) => atValue(piece, fact, env)));
    if (batches.every((batch) => batch.length === 0)) return [];
    const { clusters, slope: steep, low, high, ...rest } = slope(batches.map(joined));
    const per = steps[fact];
    const scaled = (one: number | null) => (one === null ? null : one * per);
    return [{ fact, batches: clusters, ...rest, slope: scaled(steep), low: scaled(low), high: scaled(high), per }];
  });
}

function atValue(piece: Piece, fact: NumberKey, env: FiguresEnv): AtValue[] {
  const [first, ...rest] = piece.cohorts.map((cohort) => numberOf(fact, cohort, env));
  const { taken, judged } = sure(piece);
  if (first === null || first === undefined || judged === 0 || rest.some((value) => value !== first)) return [];
  return [{ value: first, taken, judged }];
}

/** A row for each value. */
function joined(rows: readonly AtValue[]): AtValue[] {
  const values = new Map<number, AtValue>();
  for (const { value, taken, judged } of rows) {
    const there = values.get(value);
    values.set(value, { value, taken: taken + (there?.taken ?? 0), judged: judged + (there?.judged ?? 0) });
  }
  return [...values.values()];
}
