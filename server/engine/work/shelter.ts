import type { Day } from '#grammar/statement.ts';
import { coverFlags } from '#grammar/vocabulary.ts';
import { coverOn, placeCover, stayOn } from '../cover.ts';
import type { Cover } from '../model.ts';
import type { PracticeRow } from '../practice-rows.ts';
import { onDay } from '../practice-subject.ts';
import { dayText, percent } from '../say.ts';
import { firstOn, monthsBefore, runningOn, runningOrNext, type Stretch, stretchesOf, type Window } from '../year.ts';
import type { Case } from './case.ts';
import { coverAgain } from './open.ts';
import { type Task, task } from './task.ts';

/** Cover before the cold, and wrapping again what was found dry. */
export function cover(grafts: Case): readonly Task[] {
  return [...coldCover(grafts), ...(grafts.cohort.undivided ? [] : coverAgain(grafts))];
}

/**
 * Grafts made for the winter are covered the day they are made, till taken and the last frost is past; those of spring
 * and summer that haven't taken, before the first frost. A move or an `uncover` that leaves them without begins it anew,
 * due that day. Where nobody told how they stand, nothing is asked.
 */
function coldCover(grafts: Case): readonly Task[] {
  const { cohort } = grafts;
  const rule = grafts.rule('cover', 'graft', cohort.madeDay);
  const needs = grafts.env.practice.needs('frost-free', onDay(grafts.subject, cohort.madeDay))?.row;
  if (!rule || !needs) return [];
  const bare = bareSince(grafts, (flags) => !flags.has('frost-free'));
  const place = stayOn(cohort, grafts.day)?.place;
  if (!bare || (place !== undefined && grafts.env.weather?.frostFree(place))) return [];
  const cold = coldOf(grafts, needs, rule, grafts.day);
  const window =
    rule.wait?.kind === 'amount' ? winterWindow(grafts, rule, bare, cold) : summerWindow(grafts, rule, bare, cold);
  if (!window || monthsBefore(window.from, 1) > grafts.day) return [];
  const begun = window.from <= bare.day;
  return [
    task(
      'cover',
      window,
      rule,
      begun
        ? bareWords(grafts, bare, 'frost cover')
        : `not taken: cover before the first frost${risk(grafts, place, rule)}`,
      {
        said: begun && bare.by !== 'uncover' && saidBy(grafts, needs, bare.day),
      },
    ),
  ];
}

/** How sure the day is, where a station's years tell it; the calendar's own is nobody's figure. */
function risk({ env }: Case, place: string | undefined, { certain }: PracticeRow): string {
  const told =
    place === undefined || certain === undefined ? undefined : env.weather?.frostDates(place)?.('first-frost', certain);
  return told && certain !== undefined ? `, till then a ${percent(1 - certain)} risk by the station’s years` : '';
}

/** `frost-cover-missing` speaks of grafts made or moved in its own part of the year. */
function saidBy(grafts: Case, needs: PracticeRow, on: Day): boolean {
  return !needs.within || runningOn(on, coldOf(grafts, needs, needs, on)) !== undefined;
}

function coldOf(grafts: Case, needs: PracticeRow, sure: PracticeRow, on: Day): readonly Stretch[] {
  if (!needs.within) return [{ from: { month: 1, day: 1 }, to: { month: 12, day: 31 } }];
  return stretchesOf(needs.within, { shipped: needs.shipped, certain: sure.certain }, grafts.year(on));
}

function winterWindow(grafts: Case, rule: PracticeRow, bare: Bare, cold: readonly Stretch[]): Window | undefined {
  const { cohort, day } = grafts;
  // taken, and the last frost after grafting past: from then on they may stand bare
  const safe = runningOrNext(cohort.madeDay, cold)?.by;
  if (cohort.take !== undefined && safe !== undefined && bare.day >= cohort.take && bare.day > safe) return undefined;
  const first = runningOn(bare.day, cold);
  if (first && day <= first.by) return grafts.window(rule, bare.day);
  if (cohort.take !== undefined) return undefined;
  const next = runningOrNext(day, cold);
  return next && { from: next.from, by: firstFrost(grafts, rule, next) };
}

/** Untaken at the end of the year it was to take in: the cold begins again. */
function firstFrost(grafts: Case, rule: PracticeRow, cold: Window): Day {
  const frost = grafts.year(cold.from).frost('first-frost', rule.certain);
  const day = frost && firstOn(frost, cold.from);
  return day !== undefined && day <= cold.by ? day : cold.from;
}

function summerWindow(grafts: Case, rule: PracticeRow, bare: Bare, cold: readonly Stretch[]): Window | undefined {
  const { cohort, day } = grafts;
  if (cohort.take !== undefined) return undefined;
  const first = runningOn(bare.day, cold);
  if (first && bare.day > cohort.madeDay && day <= first.by) return { from: bare.day, by: bare.day };
  let window = grafts.window(rule, cohort.madeDay);
  for (
    let passed = window && runningOn(window.by, cold);
    passed && passed.by < day;
    passed = window && runningOn(window.by, cold)
  ) {
    const next = grafts.window(rule, passed.by + 1);
    if (!next || !window || next.from <= window.from) break;
    window = next;
  }
  return window;
}

/** Shade and shelter from wind till the bud is out, in the part of the year that asks for them. Never told as late. */
export function shade(grafts: Case): readonly Task[] {
  const { cohort, day, env } = grafts;
  if (cohort.free !== undefined || cohort.take !== undefined) return [];
  const rule = grafts.rule('shade', 'graft', cohort.madeDay);
  if (!rule) return [];
  const asked = (flag: Cover) => env.practice.needs(flag, onDay(grafts.subject, cohort.madeDay))?.row;
  const [sun, wind] = [asked('shade'), asked('wind-break')];
  const within = (row: PracticeRow) =>
    row.within ? runningOn(day, stretchesOf(row.within, row, grafts.year(day))) : { from: cohort.madeDay, by: day };
  const missing = (flags: ReadonlySet<Cover>): readonly PracticeRow[] => [
    ...(sun && !flags.has('shade') ? [sun] : []),
    ...(wind && !flags.has('wind-break') && !indoors.some((flag) => flags.has(flag)) ? [wind] : []),
  ];
  const bare = bareSince(grafts, (flags) => missing(flags).length > 0);
  const season =
    bare &&
    missing(bare.flags)
      .map(within)
      .find((found) => found !== undefined);
  const window = bare && season && grafts.window(rule, Math.max(bare.day, season.from));
  if (!window) return [];
  const without = bare.flags.has('shade') ? 'wind-break' : 'shade';
  return [task('shade', window, rule, bareWords(grafts, bare, without), { said: true })];
}

/** Under a roof no wind dries them. */
const indoors: readonly Cover[] = ['heated', 'frost-free', 'mist'];

interface Bare {
  /** Since when they stand without. */
  readonly day: Day;
  readonly by: 'graft' | 'move' | 'uncover';
  /** What they have today. */
  readonly flags: ReadonlySet<Cover>;
}

/** Since when grafts stand without what they need; nothing while they have it, or where nobody told how they stand. */
function bareSince(grafts: Case, lacks: (flags: ReadonlySet<Cover>) => boolean): Bare | undefined {
  const { cohort, day, env } = grafts;
  const stay = stayOn(cohort, day);
  const own =
    cohort.named.some(({ verb }) => verb === 'cover' || verb === 'uncover') ||
    coverFlags.some((flag) => cohort.fact(flag));
  const known = stay?.place !== undefined && !stay.unknown;
  if (stay?.unknown || (!known && !own)) return undefined;
  const flags = flagsOn(day);
  if (!lacks(flags)) return undefined;
  let since = day;
  for (const change of changesOf(grafts)) {
    if (change > day) continue;
    if (!lacks(flagsOn(change))) break;
    since = change;
  }
  const moved = cohort.stays.some((other, i) => i > 0 && other.day === since);
  return { day: since, by: since === cohort.madeDay ? 'graft' : moved ? 'move' : 'uncover', flags };

  function flagsOn(on: Day): ReadonlySet<Cover> {
    if (own) return coverOn(cohort, on, env.log).flags;
    const place = stayOn(cohort, on)?.place;
    return place === undefined ? none : placeCover(place, on, env.log);
  }
}

const none: ReadonlySet<Cover> = new Set();

/** Days on which their cover may have changed, the last first. */
function changesOf({ cohort, env }: Case): readonly Day[] {
  const days = new Set<Day>([cohort.madeDay]);
  for (const { day, place } of cohort.stays) {
    days.add(day);
    if (place === undefined) continue;
    for (const entry of env.log.names.workOn(place)?.all ?? []) {
      const verb = entry.line.statement?.verb;
      if ((verb === 'cover' || verb === 'uncover') && entry.day !== undefined && entry.day >= cohort.madeDay)
        days.add(entry.day);
    }
  }
  for (const { verb, day } of cohort.named) if (verb === 'cover' || verb === 'uncover') days.add(day);
  return [...days].sort((a, b) => b - a);
}

function bareWords({ day, cohort }: Case, bare: Bare, without: string): string {
  if (bare.by === 'graft') return `grafted ${dayText(cohort.madeDay, day)} without ${without}`;
  return `${bare.by === 'move' ? 'moved' : 'uncovered'} ${dayText(bare.day, day)}: without ${without} since`;
}
