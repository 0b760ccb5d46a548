import { greatest } from '#grammar/values/extremes.ts';
import { countText, dayText, hoursText, lateText, numberText, percent, rangeText, toText, workTitle } from '../say.ts';
import type { SeasonReport } from '../season-report.ts';
import { shownState } from '../work/shown-state.ts';
import type { FrostNights } from './frost-nights.ts';
import type { Group } from './groups.ts';
import type { Opening } from './opening.ts';
import { capital, few, grafts, listText } from './wording.ts';

/* What the season report says first, and at the head of each part: what is found, not what is drawn. */

const range = (low: number, high: number): string => `${Math.round(low * 100)} and ${percent(high)}`;

/** What took, and how sure that is. */
export function answerSentence({ grafted, taken, failed, open, rate, low, high, worst, best }: Group): string {
  const judged = taken + failed;
  if (grafted === 0) return 'No grafts on record yet.';
  if (judged === 0) return `Not judged yet: ${grafts(grafted)}, all of them to judge.`;
  if (judged * 2 < grafted || rate === null || low === null || high === null) {
    const ends = worst === null || best === null ? '' : ` Between ${range(worst, best)} will have taken in the end.`;
    return `Not judged yet: of ${grafts(grafted)} ${numberText(taken)} are taken, ${numberText(failed)} lost.${ends}`;
  }
  if (judged < few) return `${numberText(taken)} of ${numberText(judged)} judged took: too few for a rate.`;
  const sofar = open * 5 > grafted ? ' so far' : '';
  const sentence = `${percent(rate)} took${sofar}: ${numberText(taken)} of the ${grafts(judged)} judged. Likely between ${range(low, high)}.`;
  return sofar ? `${sentence} ${numberText(open)} are still to judge.` : sentence;
}

/** Why a rate is less sure than its count; empty where none is told. */
export function answerNote({ grafted, taken, failed, effective, batches, basis }: Group): string {
  if (taken + failed < few || (taken + failed) * 2 < grafted) return '';
  if (basis === 'batch' || effective === null) return 'Of one batch: how that one did, not how the next will.';
  const like = countText(Math.max(1, Math.round(effective)), 'separate graft');
  return `Grafts of one batch share a day, a hand and a lot of wood: these ${batches} batches tell as much as ${like} would.`;
}

/** Causes of loss, the most first; those nobody noted last. */
export function causesOf({ causes }: Group): readonly (readonly [string, number])[] {
  return Object.entries(causes).sort(
    ([a, m], [b, n]) => Number(a === 'unknown') - Number(b === 'unknown') || n - m || a.localeCompare(b),
  );
}

export const causeText = (cause: string): string => (cause === 'unknown' ? 'no cause noted' : cause);

export function lostMostSentence(group: Group): string {
  const [first] = causesOf(group);
  if (group.failed === 0 || !first) return 'Nothing was lost.';
  const unknown = group.causes.unknown ?? 0;
  if (first[0] === 'unknown') return `${grafts(group.failed)} lost, and no cause noted.`;
  if (first[1] === group.failed)
    return `${capital(first[0])}: all ${numberText(first[1])} that were lost.`.replace(
      'all 1 that were',
      'the one that was',
    );
  const rest = unknown > 0 ? ` For ${numberText(unknown)} no cause is noted.` : '';
  return `${capital(first[0])}: ${numberText(first[1])} of the ${numberText(group.failed)} lost.${rest}`;
}

export function openingHead(openings: readonly Opening[]): string {
  const waiting = openings.filter(({ next }) => next !== null);
  const late = waiting.filter(({ next }) => next?.state === 'overdue');
  if (openings.length === 0) return 'No wrap was opened this season';
  if (waiting.length === 0) return 'No wrap waits to be opened';
  const sets = countText(waiting.length, 'set');
  return `${sets} under way, ${late.length === 0 ? 'none' : numberText(late.length)} overdue`;
}

/** How far a set is, and what is next. */
export function openingText({ steps, free, next, count }: Opening, day: number): string {
  const last = steps.at(-1);
  const now = last ? `${percent(last.share)} since ${dayText(last.day, day)}` : 'closed';
  if (free) {
    const days = rangeText(free.first, free.last, day);
    return free.count === count ? `free ${days}` : `${now}; ${free.count} of ${count} free ${days}`;
  }
  if (!next) return now;
  const to = toText(next.to);
  if (next.state === 'overdue') return `${now}; ${to} was due by ${dayText(next.by, day)}: ${lateText(day - next.by)}`;
  const late = next.by < day ? `, ${lateText(day - next.by)}` : '';
  return `${now}; next ${to}, ${rangeText(next.from, next.by, day)}${late}`;
}

export function frostHead({ nights, places }: FrostNights): string {
  const stood = places.flatMap(({ frosts }) => frosts);
  const days = new Set(stood.map(({ day }) => day)).size;
  const found =
    stood.length === 0
      ? 'no untaken graft on record stood out in one'
      : `in ${days === 1 ? 'one' : days} up to ${grafts(greatest(stood.map((one) => one.grafts)))} not yet taken stood in frost`;
  if (nights === null)
    return stood.length === 0
      ? 'Frost: no station is read'
      : `${countText(days, 'frost night')} read among untaken grafts`;
  return nights.length === 0 && stood.length === 0
    ? 'No frost night'
    : `${countText(nights.length, 'frost night')}; ${found}`;
}

export function workHead({ levelled, hours, work }: SeasonReport): string {
  if (work.length === 0) return 'Nothing waits, and nothing is to come';
  const { shortage, weeks } = levelled;
  if (hours !== undefined && shortage > 0) return `${hoursText(shortage)} too much for the hours there are`;
  const minutes = weeks.reduce((sum, week) => sum + week.taken, 0);
  const fits = hours === undefined ? '' : ', and all of it fits';
  return `${hoursText(minutes)} of work ahead${fits}`;
}

/** At most three that can't wait. */
export function needsNow({ work, day }: SeasonReport): { readonly overdue: boolean; readonly text: string }[] {
  const overdue = work.filter((item) => shownState(item) === 'overdue');
  const due = work.filter((item) => shownState(item) === 'due');
  if (overdue.length === 0)
    return [{ overdue: false, text: due.length === 0 ? 'Nothing is due.' : `Nothing is overdue; ${due.length} due.` }];
  const rows = overdue.slice(0, 3).map((item) => ({
    overdue: true,
    text: `${item.grafts}: ${workTitle(item)} ${toText(item.to)}`.trim().concat(`, ${lateText(day - item.by)}`),
  }));
  const more = overdue.length - rows.length;
  return more > 0 ? [...rows, { overdue: true, text: `and ${more} more overdue` }] : rows;
}

/** What stands out among batches; names at most three of a side. */
export function ratesHead({ stats }: SeasonReport): string {
  if (!stats.ranking) return 'Too few batches judged to set one against another';
  const named = (word: 'better' | 'worse') => (stats.ranking?.items ?? []).filter((item) => item.word === word);
  const some = (items: readonly { readonly name: string }[]) => {
    const names = items.slice(0, 3).map(({ name }) => name);
    return items.length > names.length
      ? `${names.join(', ')} and ${items.length - names.length} more`
      : listText(names, 'and');
  };
  const [better, worse] = [named('better'), named('worse').toReversed()];
  if (better.length === 0 && worse.length === 0) return 'No batch stands out from the usual';
  const parts = [
    ...(better.length > 0 ? [`${some(better)} took better than usual`] : []),
    ...(worse.length > 0 ? [`${some(worse)} ${better.length > 0 ? 'worse' : 'took worse than usual'}`] : []),
  ];
  return parts.join(', ');
}
