import type { Day } from '#grammar/statement.ts';
import { fromDay } from '#grammar/values/date.ts';
import type { PracticeRow } from '../practice-rows.ts';
import { isBud } from '../practice-subject.ts';
import { dayText } from '../say.ts';
import { nextAfter, runningOn, stretchesOf, type Window } from '../year.ts';
import type { Case } from './case.ts';
import { earliest } from './look.ts';
import { nextShare } from './step.ts';
import { type Task, task } from './task.ts';

/** Judging the take: own growth, firm, four weeks uncovered. */
export function take(grafts: Case): readonly Task[] {
  const { cohort, day } = grafts;
  const { free } = cohort;
  if (free === undefined || cohort.take !== undefined) return [];
  const rule = grafts.rule('take', 'free', free);
  const window = rule && grafts.window(rule, free);
  return window ? [task('take', window, rule, `free since ${dayText(free, day)}: own growth, and firm?`)] : [];
}

/** A thread graft swells its own hole shut and is tied to nothing, unless somebody noted a tie. */
export const isBound = ({ cohort }: Case): boolean =>
  cohort.untied === undefined && (cohort.method !== 'thread' || cohort.fact('tie') !== undefined);

/** The tie is looked at through the growth, from the day the bud is free; found biting it is renewed. */
export function tie(grafts: Case): readonly Task[] {
  const { cohort, events, day } = grafts;
  if (!isBound(grafts)) return [];
  const biting = events.sign('biting');
  if (biting && !events.answered(biting)) {
    const rule = grafts.rule('tie', 'biting', biting.day);
    const window = rule && grafts.window(rule, biting.day);
    if (window)
      return [
        task('tie', window, rule, `found biting ${dayText(biting.day, day)}: bind again, looser`, { renews: 'tie' }),
      ];
  }
  const start = cohort.free ?? cohort.take ?? (cohort.method === 'approach' ? cohort.madeDay : undefined);
  if (start === undefined || events.word < start) return [];
  const rule = grafts.rule('tie', 'word', events.word);
  const window = rule && grafts.window(rule, events.word);
  if (!window) return [];
  return [
    task('tie', inSeason(grafts, window, rule), rule, `last word ${dayText(events.word, day)}: does the tie bite?`),
  ];
}

/** What the season has passed over waits for the next one, with its width. */
function inSeason(grafts: Case, window: Window, rule: PracticeRow): Window {
  const { day } = grafts;
  const within = rule.within && stretchesOf(rule.within, rule, grafts.year(window.from));
  const season = within && runningOn(window.from, within);
  const next = season && day > season.by ? (runningOn(day, within) ?? nextAfter(day, within)) : undefined;
  return next ? { from: next.from, by: Math.min(next.by, next.from + window.by - window.from) } : window;
}

/** Untying: scion grafts once taken, buds with their tape. */
export function untie(grafts: Case): readonly Task[] {
  const { cohort, detached, day } = grafts;
  if (!isBound(grafts) || (detached && cohort.take === undefined)) return [];
  const found: Task[] = [];
  const after = (event: string, on: Day | undefined, why: string) => {
    const rule = on === undefined ? undefined : grafts.rule('untie', event, on);
    const window = rule && on !== undefined ? grafts.window(rule, on) : undefined;
    if (!rule || !window) return;
    const from = Math.min(window.by, Math.max(window.from, detached ? (cohort.take ?? window.from) : window.from));
    found.push(task('untie', { from, by: window.by }, rule, why));
  };
  const growth = grafts.growth();
  after(
    'graft',
    cohort.madeDay,
    `${isBud(cohort.method) ? 'budded' : 'grafted'} ${dayText(cohort.madeDay, day)}: the tape comes off once it has knit`,
  );
  if (growth !== undefined) after('growth', growth, `growth of ${fromDay(growth).year}: bound through it, then off`);
  if (cohort.free !== undefined)
    after('free', cohort.free, `free since ${dayText(cohort.free, day)}: the tie comes off once it has knit`);
  after('take', cohort.take, `taken ${dayText(cohort.take ?? day, day)}: the tie comes off once it has knit`);
  after('sever', grafts.events.done('sever'), 'severed: bare when it stands on its own');
  return earliest(found);
}

/** The stock gives way by stages, once the scion can take over; each stage counts from the last. */
export function headback(grafts: Case): readonly Task[] {
  const { cohort, events, day } = grafts;
  const { take: taken } = cohort;
  if (taken === undefined || cohort.headback >= 1) return [];
  const last = events.done('headback');
  const [event, on] = last === undefined ? ['take', taken] : ['headback', last];
  const rule = grafts.rule('headback', event, on);
  const window = rule && grafts.window(rule, on);
  if (!window) return [];
  const to = nextShare(grafts, 'headback-step', cohort.headback, Math.max(day, window.from));
  const since =
    last === undefined
      ? `taken ${dayText(taken, day)}`
      : `headed back to ${part(cohort.headback)} ${dayText(last, day)}`;
  return [task('headback', window, rule, `${since}: ${stageWords(cohort.headback, to)}`, { to })];
}

const thirds: Readonly<Record<string, string>> = { '0.33': 'a third', '0.5': 'half', '0.67': 'two thirds', '1': 'all' };

/** `a third`, `two thirds`, `40 %`. */
const part = (share: number): string =>
  thirds[String(Math.round(share * 100) / 100)] ?? `${Math.round(share * 100)}\u00A0%`;

function stageWords(now: number, { low, high }: NonNullable<Task['to']>): string {
  if (low >= 1) return now > 0 ? 'now the rest' : 'whole';
  if (high >= 1 && now === 0 && low >= 0.5) return 'whole or in two';
  return now > 0 ? `now to ${part(low)}` : `${part(low)} off`;
}

/** What grows below the union is rubbed off, again and again till summer. */
export function suckers(grafts: Case): readonly Task[] {
  const { cohort, events, day } = grafts;
  const rubbed = events.sign('suckers')?.day;
  const found: Task[] = [];
  for (const [event, on] of [
    ['swell', cohort.swell],
    ['headback', events.done('headback')],
    ['suckers', rubbed],
  ] as const) {
    if (on === undefined || (event !== 'suckers' && rubbed !== undefined && rubbed >= on)) continue;
    const rule = grafts.rule('suckers', event, on);
    const window = rule && grafts.window(rule, on, event === 'suckers' ? 'drop' : 'wait');
    if (!window || isOver(grafts, rule, window)) continue;
    const since = event === 'swell' ? 'swelling since' : event === 'headback' ? 'headed back' : 'last rubbed off';
    found.push(task('suckers', window, rule, `${since} ${dayText(on, day)}: rub off what grows below the union`));
  }
  return earliest(found);
}

/** The part of the year it belonged to has passed. */
function isOver(grafts: Case, rule: PracticeRow, window: Window): boolean {
  const season = rule.within && runningOn(window.from, stretchesOf(rule.within, rule, grafts.year(window.from)));
  return season !== undefined && grafts.day > season.by;
}

/** Approach and thread grafts are cut from what fed them, once they have grown a season. */
export function sever(grafts: Case): readonly Task[] {
  const { cohort, attached } = grafts;
  if (!attached || cohort.take !== undefined || isSevered(grafts)) return [];
  const growth = grafts.growth();
  const rule = growth === undefined ? undefined : grafts.rule('sever', 'growth', growth);
  const window = rule && growth !== undefined ? grafts.window(rule, growth) : undefined;
  if (!rule || !window || growth === undefined) return [];
  return [
    task(
      'sever',
      window,
      rule,
      `growth of ${fromDay(growth).year}: after it in stages, the far side being the thicker`,
    ),
  ];
}

export function isSevered({ cohort }: Case): boolean {
  return cohort.named.some(({ verb, statement, undivided }) => {
    if (verb !== 'sever' || undivided) return false;
    const share = statement.facts.find((fact) => fact.key === 'share');
    if (!share) return true;
    return !share.lost && share.value.kind === 'amount' && (share.value.high ?? share.value.low ?? 0) >= 1 - 1e-6;
  });
}

/** Some unions fail late: a look a year after the take, and every four years after that look. */
export function again(grafts: Case): readonly Task[] {
  const { cohort, events, day } = grafts;
  if (cohort.take === undefined) return [];
  const looked = [
    ...events.looks.map((look) => look.day),
    ...cohort.named.filter(({ verb, undivided }) => verb === 'take' && !undivided).map((visit) => visit.day),
  ].sort((a, b) => a - b);
  let [event, on] = ['take', cohort.take];
  for (;;) {
    const rule = grafts.rule('again', event, on);
    const window = rule && grafts.window(rule, on);
    if (!window) return [];
    const seen = looked.find((look) => look >= window.from);
    if (seen === undefined) {
      const since = event === 'take' ? 'taken' : 'last looked at';
      return [task('again', window, rule, `${since} ${dayText(on, day)}: some unions fail late`)];
    }
    if (seen <= on) return [];
    [event, on] = ['again', seen];
  }
}
