import type { Day } from '#grammar/statement.ts';
import { isoDay } from '#grammar/values/date.ts';
import type { Answers } from './answers.ts';
import { type FrostNights, frostNights } from './figures/frost-nights.ts';
import { type GraftSeason, graftSeasons } from './figures/graft-season.ts';
import { type Group, groupsOf } from './figures/groups.ts';
import { levelOfPiece } from './figures/levels.ts';
import { type Opening, openingsOf } from './figures/opening.ts';
import { type Piece, push } from './figures/pieces.ts';
import { type FactSlope, slopesOf } from './figures/slopes.ts';
import { type Stats, type StatsAsked, statsJson, statsOf } from './figures/stats.ts';
import { type Survival, survivalOf } from './figures/survival.ts';
import type { WorkItem } from './model.ts';
import { type Levelled, levelWork } from './work/level.ts';

/** All figures of the season report, as `graftlog report` shows them and its JSON gives them. */
export interface SeasonReport {
  /** The site's name. */
  readonly name: string;
  readonly day: Day;
  /** The newest first; the report is of the first. Empty where nothing was grafted yet. */
  readonly seasons: readonly GraftSeason[];
  /** The whole record in one; absent where there is none. */
  readonly all: Group | undefined;
  /** As `stats --by batch --compare season,method,hand` gives them. */
  readonly stats: Stats;
  /** Whether depth and whorls went with more takes, as `stats --by depth,whorls` gives them. */
  readonly slopes: readonly FactSlope[];
  /** Losses over time by the time of year they were grafted in; empty where that is one. */
  readonly survivals: readonly { readonly season: string | null; readonly survival: Survival }[];
  readonly openings: readonly Opening[];
  readonly frost: FrostNights;
  /** Sorted by date, as `due` gives it. */
  readonly work: readonly WorkItem[];
  /** By week: in the hours a week there are, or with none given each piece as early as its window allows. */
  readonly levelled: Levelled;
  /** Hours a week; absent where nobody said. */
  readonly hours: number | undefined;
}

/** What the report asks of a record, and whoever wants the same of `stats`. */
const reportStats: StatsAsked = { by: ['batch'], compare: ['season', 'method', 'hand'] };

/** Hours of a whole week: room for everything. */
const wholeWeek = 168;

export function seasonReport(answers: Answers, hours?: number): SeasonReport {
  const { day, log, env } = answers;
  const pieces = answers.pieces();
  const record = answers.record();
  const seasons = graftSeasons(pieces, env);
  const from = seasons[0]?.from ?? day;
  const work = answers.work();
  return {
    name: log.site?.line.statement?.sets[0]?.name.text ?? 'Grafts',
    day,
    seasons,
    all: groupsOf(pieces, [], env)[0],
    stats: statsOf(record, reportStats, env),
    slopes: slopesOf(pieces, ['depth', 'whorls'], env),
    survivals: survivalsBySeason(pieces, answers),
    openings: openingsOf(record, work, { from, to: day, log }),
    frost: frostNights(record, { from, to: Math.min(day, seasons[0]?.to ?? day) }, env, answers.weather),
    work,
    levelled: levelWork(work, { day, hours: hours ?? wholeWeek }),
    hours,
  };
}

function survivalsBySeason(pieces: readonly Piece[], { env }: Answers): SeasonReport['survivals'] {
  const bySeason = new Map<string | null, Piece[]>();
  for (const piece of pieces) push(bySeason, levelOfPiece('season', piece, env) ?? null, piece);
  if (bySeason.size < 2) return [];
  return [...bySeason].flatMap(([season, own]) => {
    const survival = survivalOf(own);
    return survival ? [{ season, survival }] : [];
  });
}

/** The same as JSON; days as dates, shares 0..1. */
export function reportJson(report: SeasonReport) {
  const { day, seasons, all, stats, slopes, survivals, openings, frost, work, levelled } = report;
  const groupJson = ({ young: _, unjudged: __, ...group }: Group) => group;
  const date = (on: Day | null) => (on === null ? null : isoDay(on));
  return {
    on: isoDay(day),
    seasons: seasons.map(({ name, from, to, group, batches }) => ({
      name,
      from: isoDay(from),
      to: isoDay(to),
      names: batches.flatMap(([piece]) => (piece ? [piece.history.batch.name] : [])),
      ...groupJson(group),
    })),
    all: all ? groupJson(all) : null,
    stats: { ...statsJson(stats), slopes },
    survivals: survivals.map(({ season, survival: { watched: _, ...survival } }) => ({ season, ...survival })),
    openings: openings.map(({ swell, steps, free, next, ...opening }) => ({
      ...opening,
      swell: date(swell),
      steps: steps.map(({ day: on, share }) => ({ day: isoDay(on), share })),
      free: free && { first: isoDay(free.first), last: isoDay(free.last), count: free.count },
      next: next && { from: isoDay(next.from), by: isoDay(next.by), state: next.state, to: next.to },
    })),
    frost: {
      nights: frost.nights?.map(({ day: on, min }) => ({ day: isoDay(on), min })) ?? null,
      places: frost.places.map(({ place, stood, frosts, readings, lowest }) => ({
        place,
        stood: stood.map((run) => ({ from: isoDay(run.from), to: isoDay(run.to), most: run.most })),
        frosts: frosts.map(({ day: on, min, grafts }) => ({ day: isoDay(on), min, grafts })),
        readings,
        lowest,
      })),
    },
    work: work.length,
    weeks: levelled.weeks.map(({ from, to, minutes, taken, short }) => ({
      from: isoDay(from),
      to: isoDay(to),
      minutes,
      taken,
      short,
    })),
  };
}
