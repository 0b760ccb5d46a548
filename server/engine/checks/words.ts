import type { Day } from '#grammar/statement.ts';
import { fromDay, monthNames } from '#grammar/values/date.ts';
import type { Method } from '#grammar/vocabulary.ts';
import type { Limit, Range } from '../practice.ts';

/*
 * Figures in a finding's sentence: a no-break space before units, a true minus, `30 to 50 %`.
 */

const trim = (figure: number, digits: number): string => String(Number(figure.toFixed(digits))).replace('-', '−');

/** `12 mm`, `12 cm` from 10 cm on. */
export const mm = (length: number): string =>
  length >= 100 ? `${trim(length / 10, 1)}\u00A0cm` : `${trim(length, 1)}\u00A0mm`;

export const cm = (length: number): string => `${trim(length / 10, 1)}\u00A0cm`;

/** Whole percents; a decimal where a whole one would hide on which side of a limit it lies. */
export function share(figure: number, limits: readonly (number | undefined)[] = []): string {
  const whole = Math.round(figure * 100);
  const hidden = limits.some(
    (limit) => limit !== undefined && Math.round(limit * 100) === whole && Math.abs(limit - figure) > 1e-9,
  );
  return `${hidden ? trim(figure * 100, 1) : whole}\u00A0%`;
}

export const degrees = (celsius: number): string => `${trim(celsius, 1)}\u00A0°C`;

/** `8 to 12 mm`, or one figure. */
export function between(range: Range, say: (figure: number) => string): string {
  return range.low === range.high ? say(range.low) : joined(say(range.low), say(range.high));
}

/** `30 to 50 %` from `30 %` and `50 %`. */
function joined(low: string, high: string): string {
  const unit = /\u00A0.*$/u.exec(high)?.[0] ?? '';
  return unit && low.endsWith(unit) ? `${low.slice(0, -unit.length)} to ${high}` : `${low} to ${high}`;
}

/** What is good: `30 to 50 %`, `at least 25 mm`, `up to 42 days`. */
export function usual(limit: Pick<Limit, 'low' | 'high'>, say: (figure: number) => string): string {
  if (limit.low !== undefined && limit.high !== undefined) return between({ low: limit.low, high: limit.high }, say);
  return limit.low !== undefined ? `at least ${say(limit.low)}` : `up to ${say(limit.high ?? 0)}`;
}

export const daysText = (days: number): string => (days === 1 ? '1 day' : `${days} days`);

/** A duration as a hand would say it: days up to four weeks, weeks up to two months, months, years. */
export function durationText(days: number): string {
  if (days < 28) return daysText(Math.round(days));
  const months = Math.round(days / 30.44);
  if (months < 2) return `${Math.round(days / 7)} weeks`;
  if (months < 24) return months === 12 ? 'a year' : `${months} months`;
  return `${Math.round(days / 365.25)} years`;
}

export const monthOf = (day: Day): string => monthNames[fromDay(day).month - 1] ?? '';

const methodWords: Readonly<Record<Method, string>> = {
  side: 'side grafts',
  'side-veneer': 'side-veneer grafts',
  cleft: 'cleft grafts',
  whip: 'whip grafts',
  'whip-and-tongue': 'whip-and-tongue grafts',
  saddle: 'saddle grafts',
  splice: 'splice grafts',
  bark: 'bark grafts',
  approach: 'approach grafts',
  thread: 'thread grafts',
  'chip-bud': 'chip buds',
  't-bud': 'T-buds',
};

export const methodWord = (method: Method | undefined): string => (method ? methodWords[method] : 'grafts');

const longest = 140;

/** One sentence, cut at a word so that it stays within what is shown. */
export function sentence(text: string): string {
  if (text.length <= longest) return text;
  const cut = text.slice(0, longest - 1);
  return `${cut.slice(0, Math.max(cut.lastIndexOf(' '), 80)).replace(/[,;:. ]+$/u, '')}…`;
}

/** A sentence with where its rule is from behind it, as many clauses of it as there is room for. */
export function withWhy(text: string, source: string | undefined): string {
  let why = '';
  for (const clause of source?.split('; ') ?? []) {
    const more = why ? `${why}; ${clause}` : clause;
    if (`${text} (${more}).`.length > longest) break;
    why = more;
  }
  return sentence(why ? `${text} (${why}).` : `${text}.`);
}
