import type { Day } from '#grammar/statement.ts';
import { size } from '#grammar/values/intervals.ts';
import { amountOf, rangeOf } from '../checks/case.ts';
import { factOf } from '../facts.ts';
import type { Cohort } from '../model.ts';
import type { Subject } from '../practice.ts';
import type { FiguresEnv } from './env.ts';
import type { Piece } from './pieces.ts';
import { followed, nextSeason, type SeasonAhead, seasonAhead } from './season-ahead.ts';

/** What so many grafts need. A need of which a fact is not on record is left out and named in `missing`. */
export interface Needs {
  readonly scions?: number;
  /** Scions to cut, a tenth more than are set. */
  readonly wood?: number;
  readonly understocks?: number;
  /** Wrapping film, metres. */
  readonly film?: number;
  /** At the bench. */
  readonly hours?: number;
  /** Room where grafts like these stood one after another, on the days of next season. */
  readonly places?: readonly RoomNeeded[];
  /** Work week by week. */
  readonly season?: SeasonAhead;
  /** What isn't written of such a graft, so that its film can't be told. */
  readonly without?: readonly string[];
  readonly missing: readonly ('film' | 'hours' | 'places' | 'season')[];
}

/** A place that says how much it holds, and what of that is free today. */
export interface RoomNeeded {
  readonly name: string;
  readonly from: Day;
  /** Null where grafts like these stand there still. */
  readonly to: Day | null;
  readonly capacity: number;
  readonly standing: number;
  readonly free: number;
}

/** House defaults: wood cut beyond what is set; film half overlapped, and its stretch not counted on. */
const spareWood = 0.1;
const overlap = 0.5;
const stretch = 1;

/**
 * @param grafts null where no number will do: then there are no needs
 * @param model a graft like those planned: its facts and its places are taken over
 * @param there hours a week there are
 */
export function needsOf(
  grafts: number | null,
  model: Cohort | undefined,
  subject: Subject,
  pieces: readonly Piece[],
  env: FiguresEnv,
  there?: number,
): Needs {
  if (grafts === null) return { missing: [] };
  const wrap = model && wrapOf(model);
  const film = wrap && filmOf(wrap);
  const minutes = env.practice.minutes('graft', subject);
  const record = model ? followed(model, pieces, env) : [];
  const stood = record[0]?.cohorts[0] ?? model;
  const places = stood ? roomOf(stood, pieces, env) : [];
  const season = seasonAhead(grafts, record, env, there);
  return {
    scions: grafts,
    wood: Math.ceil(grafts * (1 + spareWood) - 1e-9),
    understocks: grafts,
    ...(film === undefined ? {} : { film: (film * grafts) / 1000 }),
    ...(minutes === undefined ? {} : { hours: (minutes * grafts) / 60 }),
    ...(places.length > 0 ? { places } : {}),
    ...(season ? { season } : {}),
    ...(wrap && film === undefined ? { without: wrapKeys.filter((key) => wrap[key] === undefined) } : {}),
    missing: [
      ...(film === undefined ? (['film'] as const) : []),
      ...(minutes === undefined ? (['hours'] as const) : []),
      ...(places.length > 0 ? [] : (['places'] as const)),
      ...(season ? [] : (['season'] as const)),
    ],
  };
}

const wrapKeys = ['long', 'film', 'stock'] as const;
type Wrap = Readonly<Record<(typeof wrapKeys)[number], number | undefined>>;

/** Length of the union, width of the film, across the understock, mm; of an interval its middle. */
function wrapOf(model: Cohort): Wrap {
  const middle = (key: (typeof wrapKeys)[number]) => {
    const range = rangeOf(amountOf(model.fact(key)));
    return range && (range.low + range.high) / 2;
  };
  return { long: middle('long'), film: middle('film'), stock: middle('stock') };
}

/** Millimetres of film around one union: a helix over the long face, around the understock. */
function filmOf({ long, film, stock }: Wrap): number | undefined {
  if (long === undefined || film === undefined || stock === undefined) return undefined;
  const turns = long / (film * (1 - overlap));
  return (turns * Math.PI * stock) / stretch;
}

/** Where it stood from when to when, moved on to next season; places that don't say how much they hold are left out. */
function roomOf(stood: Cohort, pieces: readonly Piece[], { log, day }: FiguresEnv): RoomNeeded[] {
  const ahead = nextSeason(stood.madeDay, day) - stood.madeDay;
  return stood.stays.flatMap((stay, i): RoomNeeded[] => {
    const declared = stay.place === undefined ? undefined : log.names.declared(stay.place);
    const fact = declared && factOf(declared.entry.line.statement, 'capacity');
    if (!declared || !fact || fact.lost || fact.value.kind !== 'amount' || fact.value.high === undefined) return [];
    const capacity = fact.value.high;
    const standing = pieces.reduce((sum, piece) => sum + standingIn(piece, declared.key), 0);
    const next = stood.stays[i + 1];
    return [
      {
        name: declared.name,
        from: stay.day + ahead,
        to: next ? next.day + ahead : null,
        capacity,
        standing,
        free: Math.max(0, capacity - standing),
      },
    ];
  });
}

/** Living grafts of a piece that stand there now; of counted losses each cohort bears its share, as far as it has any. */
function standingIn({ cohorts, counts }: Piece, place: string): number {
  let here = 0;
  let living = 0;
  for (const cohort of cohorts) {
    if (cohort.fail && !cohort.counted) continue;
    living += size(cohort.numbers);
    if (cohort.sold === undefined && cohort.stays.at(-1)?.place === place) here += size(cohort.numbers);
  }
  return Math.min(here, Math.max(0, Math.min(living, counts.grafted - counts.failed - counts.sold)));
}
