import type { Day } from '#grammar/statement.ts';
import { fromDay, toDay } from '#grammar/values/date.ts';
import { least } from '#grammar/values/extremes.ts';
import { latitudeOf } from '../cover.ts';
import { isSouth } from '../practice-year.ts';
import type { FiguresEnv } from './env.ts';
import { type Group, groupsOf } from './groups.ts';
import { byBatch, firstDay, type Piece, push } from './pieces.ts';

/** What was grafted from one summer to the next, batch by batch. */
export interface GraftSeason {
  /** `2024/25`; south of the equator `2025`. */
  readonly name: string;
  readonly from: Day;
  /** Its last day. */
  readonly to: Day;
  /** All batches together, as `stats` would give them. */
  readonly group: Group;
  /** The batch made first before the others. */
  readonly batches: readonly (readonly Piece[])[];
}

/**
 * Seasons in which something was grafted, the newest first. North of the equator one begins on 1 July, so that the
 * autumn and the spring after it are one; south of it on 1 January, for the same reason.
 *
 * @param pieces of the whole record; a batch belongs to the season of its first graft
 */
export function graftSeasons(pieces: readonly Piece[], env: FiguresEnv): GraftSeason[] {
  const south = isSouth(latitudeOf(undefined, env.log));
  const byYear = new Map<number, Piece[][]>();
  for (const own of byBatch(pieces).values()) {
    const made = least(own.map(firstDay));
    push(byYear, yearOf(made, south), own);
  }
  return [...byYear]
    .sort(([a], [b]) => b - a)
    .flatMap(([year, batches]) => {
      const [group] = groupsOf(batches.flat(), [], env, pieces);
      return group ? [{ ...spanOf(year, south), group, batches }] : [];
    });
}

function yearOf(day: Day, south: boolean): number {
  const { year, month } = fromDay(day);
  return south || month >= 7 ? year : year - 1;
}

function spanOf(year: number, south: boolean): Pick<GraftSeason, 'name' | 'from' | 'to'> {
  const [start, end] = south ? [toDay(year, 1, 1), toDay(year + 1, 1, 1)] : [toDay(year, 7, 1), toDay(year + 1, 7, 1)];
  const name = south ? String(year) : `${year}/${String((year + 1) % 100).padStart(2, '0')}`;
  return { name, from: start, to: end - 1 };
}
