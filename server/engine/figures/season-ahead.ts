import type { Day } from '#grammar/statement.ts';
import { addMonths } from '#grammar/values/date.ts';
import { least } from '#grammar/values/extremes.ts';
import { size } from '#grammar/values/intervals.ts';
import type { Verb } from '#grammar/vocabulary.ts';
import type { Cohort } from '../model.ts';
import { subjectOf } from '../subject.ts';
import type { FiguresEnv } from './env.ts';
import { levelOf, levelOfPiece } from './levels.ts';
import { byBatch, firstDay, halfJudged, type Piece } from './pieces.ts';

/** What a new batch asks of its season, week by week, if it goes as an earlier one of its pair went. */
export interface SeasonAhead {
  /** The earlier batch. */
  readonly after: string;
  /** Hours there are a week; null where nobody said. */
  readonly there: number | null;
  readonly weeks: readonly SeasonWeek[];
}

/** Monday to Sunday; hours of these grafts alone. */
export interface SeasonWeek {
  readonly from: Day;
  readonly to: Day;
  readonly hours: number;
  /** Hours beyond those there are. */
  readonly short: number;
}

/** Which `task` line tells the minutes of what was written down. */
const taskOf: Partial<Record<Verb, string>> = {
  ...{ graft: 'graft', check: 'look', swell: 'watch', free: 'watch', open: 'open', rewrap: 'rewrap', cover: 'cover' },
  ...{ uncover: 'cover', retie: 'tie', untie: 'untie', headback: 'headback', sever: 'sever', take: 'take' },
};

/** The newest batch of a graft's pair that is at least half judged: how a season of it goes is on record. */
export function followed(model: Cohort, pieces: readonly Piece[], env: FiguresEnv): readonly Piece[] {
  const pair = levelOf('pair', model, env);
  const own = halfJudged(pieces.filter((piece) => levelOfPiece('pair', piece, env) === pair));
  return [...byBatch(own).values()].at(-1) ?? [];
}

/**
 * @param grafts planned
 * @param record of the batch that is followed, moved on by whole years to the first season after the day computed for
 * @param there hours a week
 * @returns undefined where there is no such batch
 */
export function seasonAhead(
  grafts: number,
  record: readonly Piece[],
  env: FiguresEnv,
  there?: number,
): SeasonAhead | undefined {
  const made = record.reduce((sum, { counts }) => sum + counts.grafted, 0);
  if (!record[0] || made === 0) return undefined;
  const first = least(record.map(firstDay));
  const start = nextSeason(first, env.day);
  const weeks = new Map<Day, number>();
  for (const { cohorts } of record) {
    for (const cohort of cohorts) {
      for (const { verb, day } of cohort.named) {
        const minutes = env.practice.minutes(taskOf[verb] ?? '', subjectOf(cohort, day, env.log, env.lots)) ?? 0;
        const monday = mondayOf(start + day - first);
        weeks.set(monday, (weeks.get(monday) ?? 0) + minutes * size(cohort.numbers));
      }
    }
  }
  return {
    after: record[0].history.batch.name,
    there: there ?? null,
    weeks: [...weeks]
      .sort(([a], [b]) => a - b)
      .flatMap(([from, minutes]) => {
        const hours = (minutes * grafts) / made / 60;
        const short = there === undefined ? 0 : Math.max(0, hours - there);
        return hours > 0 ? [{ from, to: from + 6, hours, short }] : [];
      }),
  };
}

/** The same day of the year, the first time after a day. */
export function nextSeason(made: Day, after: Day): Day {
  let years = 1;
  while (addMonths(made, 12 * years) <= after) years++;
  return addMonths(made, 12 * years);
}

/** 1970-01-01 was a Thursday. */
const mondayOf = (day: Day): Day => day - ((((day + 3) % 7) + 7) % 7);
