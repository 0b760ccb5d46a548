import { logDeterminant, type Symmetric, solve } from './symmetric.ts';

/** So many alike trials: their stratum, their facts, and how many succeeded. */
export interface FirthRow {
  /** 0-based; each stratum has an intercept of its own. */
  readonly stratum: number;
  readonly facts: readonly number[];
  readonly taken: number;
  readonly judged: number;
}

export interface FirthFit {
  readonly slopes: readonly number[];
  readonly intercepts: readonly number[];
  /** Penalised log-likelihood. */
  readonly likelihood: number;
  /** From the information at the fit; limits come from `profile` and not from these. */
  readonly errors: readonly number[];
}

/** One slope held at a value while all else is fitted. */
export interface Held {
  readonly fact: number;
  readonly value: number;
}

const largestStep = 5;
const still = 1e-10;
const mostRounds = 500;

/**
 * Firth's logistic regression: an intercept for each stratum, a slope for each fact.
 *
 * @param rows each stratum needs a row; facts centred and scaled to about 1, so that steps of 5 are large
 * @param held a slope not to fit; the penalty keeps the determinant of all of them (profile likelihood)
 * @param start where to begin; a fit with other slopes held is a good place
 * @returns finite even where all successes lie at one end; null where the facts can't be told from the intercepts or
 *   from each other
 *
 * Source: Firth 1993, Biometrika 80:27-38; Heinze & Schemper 2002, Stat Med 21:2409-2419. Intercepts are eliminated
 * block by block, so that the work grows with the rows and not with the square of the strata.
 */
export function firth(rows: readonly FirthRow[], held?: Held, start?: FirthFit): FirthFit | null {
  const strata = 1 + rows.reduce((most, row) => Math.max(most, row.stratum), -1);
  const facts = rows[0]?.facts.length ?? 0;
  let at: Point = {
    slopes: [...(start?.slopes ?? zeros(facts))],
    intercepts: [...(start?.intercepts ?? zeros(strata))],
  };
  if (held) at = heldAt(rows, at, held) ?? at;
  let seen = look(rows, at);
  if (!seen) return null;
  for (let round = 0; round < mostRounds; round++) {
    const step = newtonStep(rows, at, seen, held);
    if (!step) return null;
    const moved = halved(rows, at, seen, step);
    at = moved.at;
    seen = moved.seen;
    if (moved.largest < still) break;
  }
  const errors = Array.from({ length: facts }, (_, fact) => errorOf(seen as Look, fact));
  return { ...at, likelihood: seen.likelihood, errors };
}

interface Point {
  readonly slopes: number[];
  readonly intercepts: number[];
}

/** The likelihood at a point, and its information with the intercepts eliminated. */
interface Look {
  readonly likelihood: number;
  /** Of each stratum: Σ w, and the mean of its facts weighted by w. */
  readonly weight: readonly number[];
  readonly mean: readonly (readonly number[])[];
  /** Σ w (x - mean)(x - mean)ᵀ. */
  readonly schur: Symmetric;
  readonly rates: readonly number[];
}

function look(rows: readonly FirthRow[], { slopes, intercepts }: Point): Look | null {
  const weight = zeros(intercepts.length);
  const mean = intercepts.map(() => zeros(slopes.length));
  const rates: number[] = [];
  const weights: number[] = [];
  let likelihood = 0;
  for (const row of rows) {
    const linear = (intercepts[row.stratum] ?? 0) + dot(slopes, row.facts);
    const rate = 1 / (1 + Math.exp(-linear));
    const w = row.judged * logistic(linear) * logistic(-linear);
    likelihood += row.taken * logLogistic(linear) + (row.judged - row.taken) * logLogistic(-linear);
    rates.push(rate);
    weights.push(w);
    weight[row.stratum] = (weight[row.stratum] ?? 0) + w;
    addTo(mean[row.stratum] as number[], row.facts, w);
  }
  mean.forEach((sums, stratum) => {
    for (let fact = 0; fact < sums.length; fact++) sums[fact] = (sums[fact] as number) / (weight[stratum] as number);
  });
  const schur = slopes.map(() => zeros(slopes.length));
  rows.forEach((row, index) => {
    const from = offsets(row, mean);
    from.forEach((x, fact) => {
      addTo(schur[fact] as number[], from, (weights[index] as number) * x);
    });
  });
  const determinant = logDeterminant(schur);
  if (determinant === null) return null;
  const penalty = weight.reduce((sum, w) => sum + Math.log(w), determinant) / 2;
  return Number.isFinite(penalty) ? { likelihood: likelihood + penalty, weight, mean, schur, rates } : null;
}

function newtonStep(rows: readonly FirthRow[], at: Point, seen: Look, held?: Held): Point | null {
  const { weight, mean, schur, rates } = seen;
  const scoreSlopes = zeros(at.slopes.length);
  const scoreStrata = zeros(at.intercepts.length);
  for (const [index, row] of rows.entries()) {
    const rate = rates[index] as number;
    const from = offsets(row, mean);
    const inverse = solve(schur, from);
    if (!inverse) return null;
    const hat = row.judged * rate * (1 - rate) * (1 / (weight[row.stratum] as number) + dot(from, inverse));
    const score = row.taken - row.judged * rate + hat * (0.5 - rate);
    scoreStrata[row.stratum] = (scoreStrata[row.stratum] as number) + score;
    addTo(scoreSlopes, from, score);
  }
  const slopes = solveFree(schur, scoreSlopes, held?.fact);
  if (!slopes) return null;
  const intercepts = scoreStrata.map(
    (score, stratum) => score / (weight[stratum] as number) - dot(mean[stratum] as number[], slopes),
  );
  return { slopes, intercepts };
}

/** Goes the step, shortened to 5 at most and halved until the likelihood doesn't fall. */
function halved(
  rows: readonly FirthRow[],
  at: Point,
  seen: Look,
  step: Point,
): { readonly at: Point; readonly seen: Look; readonly largest: number } {
  const size = Math.max(...step.slopes.map(Math.abs), ...step.intercepts.map(Math.abs));
  let share = size > largestStep ? largestStep / size : 1;
  for (; share > 1e-8; share /= 2) {
    const next: Point = {
      slopes: at.slopes.map((value, index) => value + share * (step.slopes[index] as number)),
      intercepts: at.intercepts.map((value, index) => value + share * (step.intercepts[index] as number)),
    };
    const there = look(rows, next);
    if (there && there.likelihood >= seen.likelihood - 1e-12 * Math.abs(seen.likelihood)) {
      return { at: next, seen: there, largest: share * size };
    }
  }
  return { at, seen, largest: 0 };
}

/** Holds a slope at its value; all else goes along the tangent of the profile, so that it starts near where it ends. */
function heldAt(rows: readonly FirthRow[], at: Point, { fact, value }: Held): Point | null {
  const seen = look(rows, at);
  if (!seen) return null;
  const change = value - (at.slopes[fact] ?? 0);
  const pull = seen.schur.map((row) => -(row[fact] as number) * change);
  const slopes = solveFree(seen.schur, pull, fact);
  if (!slopes) return null;
  slopes[fact] = change;
  return {
    slopes: at.slopes.map((old, index) => (index === fact ? value : old + (slopes[index] as number))),
    intercepts: at.intercepts.map((old, stratum) => old - dot(seen.mean[stratum] as readonly number[], slopes)),
  };
}

/** Solves for all facts but the held one, whose step is 0. */
function solveFree(schur: Symmetric, right: readonly number[], held: number | undefined): number[] | null {
  if (held === undefined) return solve(schur, right);
  const free = right.map((_, fact) => fact).filter((fact) => fact !== held);
  const part = free.map((row) => free.map((column) => schur[row]?.[column] as number));
  const solved = solve(
    part,
    free.map((fact) => right[fact] as number),
  );
  if (!solved) return null;
  const all = zeros(right.length);
  free.forEach((fact, index) => {
    all[fact] = solved[index] as number;
  });
  return all;
}

function errorOf({ schur }: Look, fact: number): number {
  const unit = zeros(schur.length);
  unit[fact] = 1;
  return Math.sqrt(solve(schur, unit)?.[fact] ?? Number.POSITIVE_INFINITY);
}

function offsets(row: FirthRow, mean: readonly (readonly number[])[]): number[] {
  const centre = mean[row.stratum] as readonly number[];
  return row.facts.map((x, fact) => x - (centre[fact] as number));
}

function addTo(sums: number[], values: readonly number[], times: number): void {
  values.forEach((value, index) => {
    sums[index] = (sums[index] as number) + times * value;
  });
}

function dot(one: readonly number[], other: readonly number[]): number {
  return one.reduce((sum, value, index) => sum + value * (other[index] as number), 0);
}

function zeros(length: number): number[] {
  return new Array<number>(length).fill(0);
}

function logistic(x: number): number {
  return 1 / (1 + Math.exp(-x));
}

/** log(1 / (1 + exp(-x))) without overflow on either side. */
function logLogistic(x: number): number {
  return x >= 0 ? -Math.log1p(Math.exp(-x)) : x - Math.log1p(Math.exp(x));
}
