import type { Day } from '#grammar/statement.ts';
import { fromDay } from '#grammar/values/date.ts';
import type { BatchFigures, Work, WorkItem } from './model.ts';

/*
 * How figures, days and work are said in words, the same in editor, command line and pages.
 * A no-break space stands before % and units; ranges have an en dash.
 */

const shortMonths = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const weekdays = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'];

/** `14 Apr`; with its year where that is not the one in mind. */
export function dayText(day: Day, yearOf?: Day): string {
  const { year, month, day: date } = fromDay(day);
  const plain = `${date} ${shortMonths[month - 1]}`;
  return yearOf !== undefined && fromDay(yearOf).year !== year ? `${plain} ${year}` : plain;
}

/** `Thu 21 Jun`: for a day to act on. */
export function weekdayText(day: Day): string {
  return `${weekdays[(((day + 4) % 7) + 7) % 7]} ${dayText(day)}`;
}

/** Days from which on a range across New Year has both its years: `1 Oct–30 Sep 2026` could begin in either. */
const longRange = 183;

/** `27 Jun–1 Jul`, `16–30 Jul`, `1 Oct 2025–30 Sep 2026`; one day alone is that day. */
export function rangeText(from: Day, by: Day, yearOf?: Day): string {
  if (from === by) return dayText(from, yearOf);
  const [a, b] = [fromDay(from), fromDay(by)];
  if (a.year === b.year && a.month === b.month) return `${a.day}–${dayText(by, yearOf)}`;
  if (a.year !== b.year && by - from >= longRange) return `${dayText(from, by)}–${dayText(by, from)}`;
  const start = a.year === b.year ? dayText(from) : dayText(from, yearOf);
  return `${start}–${dayText(by, yearOf)}`;
}

export const percent = (share: number): string => `${Math.round(share * 100)}\u00A0%`;

/** `1 graft`, `2 grafts`, `no grafts`; thousands from 10,000 with a comma. */
export function countText(count: number, one: string, many = `${one}s`): string {
  if (count === 0) return `no ${many}`;
  return `${numberText(count)} ${count === 1 ? one : many}`;
}

export const numberText = (count: number): string => (count >= 10_000 ? count.toLocaleString('en') : String(count));

const titles: Readonly<Record<Work, string>> = {
  look: 'look',
  watch: 'watch for swelling',
  cover: 'cover',
  shade: 'shade',
  open: 'open a step',
  judge: 'judge',
  take: 'judge the take',
  tie: 'look at the tie',
  headback: 'head back',
  untie: 'untie',
  suckers: 'rub off suckers',
  sever: 'sever',
  again: 'look again',
};

const renewals = { tie: 'renew the tie', wrap: 'wrap again' } as const;

export const workTitle = ({ what, renews }: Pick<WorkItem, 'what' | 'renews'>): string =>
  renews ? renewals[renews] : titles[what];

/** `5 days late`, `due today`, `by 27 Jun`, `26 Jun–10 Jul`. */
export function whenText(item: Pick<WorkItem, 'from' | 'by' | 'state'>, day: Day): string {
  if (item.state === 'overdue') return lateText(day - item.by);
  if (item.state === 'due') return item.by === day ? 'due today' : `by ${dayText(item.by, day)}`;
  return rangeText(item.from, item.by, day);
}

export const lateText = (days: number): string => (days === 1 ? '1 day late' : `${days} days late`);

/** `to 25–30 %` of a step. */
export function toText(to: WorkItem['to']): string {
  if (!to) return '';
  const [low, high] = [Math.round(to.low * 100), Math.round(to.high * 100)];
  return low === high ? `to ${high}\u00A0%` : `to ${low}–${high}\u00A0%`;
}

const shareRange = (low: number, high: number) => `${Math.round(low * 100)}–${Math.round(high * 100)}`;

/** The rate as it may be shown: none while over half is to judge, counts alone under five judged; else empty. */
export function rateText(
  figures: Pick<BatchFigures, 'grafted' | 'taken' | 'failed' | 'open' | 'rate' | 'low' | 'high' | 'best'>,
): string {
  const judged = figures.taken + figures.failed;
  if (figures.grafted === 0) return '';
  if (judged === 0 || judged * 2 < figures.grafted) return 'not judged yet';
  if (judged < 5) return `${figures.taken} of ${judged} took`;
  if (figures.rate === null || figures.low === null || figures.high === null) return '';
  const interval = shareRange(figures.low, figures.high);
  const few = judged < 10 ? ', few' : '';
  if (figures.open * 5 > figures.grafted) return `${percent(figures.rate)} of those judged (${interval})${few}`;
  return `take ${percent(figures.rate)} (${interval})${few}`;
}

/** A lens longer than this pushes what stands beside it out of sight. */
const lensWide = 64;

/**
 * The lens over a batch: `14 grafted · 9 taken · 3 lost · 2 to judge · take 75 % (47–91)`, zero parts left out. Too long,
 * first the leading total goes without its word; then the losses go, as they follow from those judged; then those to judge.
 */
export function figuresText(figures: BatchFigures): string {
  const { grafted, taken, failed, open } = figures;
  if (grafted === 0) return 'no grafts yet';
  const all = numberText(grafted);
  const rate = rateText(figures);
  const toJudge = open > 0 && open < grafted ? `${numberText(open)} to judge` : '';
  const counts = [taken > 0 && `${numberText(taken)} taken`, failed > 0 && `${numberText(failed)} lost`, toJudge];
  const tries = [
    [`${all} grafted`, ...counts, rate],
    [all, ...counts, rate],
    ...(rate.endsWith(')')
      ? [[judgedText(figures), toJudge], [judgedText(figures)]]
      : [
          [all, ...counts],
          [`${all} grafted`, rate],
        ]),
  ].map((parts) => parts.filter(Boolean).join(' · '));
  return tries.find((text) => text.length <= lensWide) ?? tries.at(-1) ?? rate;
}

/** `49 of 55 judged took: 89 % (78–95)`. */
function judgedText({ taken, failed, rate, low, high }: BatchFigures): string {
  const interval = low === null || high === null ? '' : ` (${shareRange(low, high)})`;
  return `${numberText(taken)} of ${numberText(taken + failed)} judged took: ${percent(rate ?? 0)}${interval}`;
}

/** `45 min`, `1.5 h`. */
export const hoursText = (minutes: number): string =>
  minutes < 60
    ? `${minutes > 0 ? Math.max(1, Math.round(minutes)) : 0}\u00A0min`
    : `${Math.round(minutes / 6) / 10}\u00A0h`;
