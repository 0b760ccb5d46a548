import type { YearDay, YearPart } from '../statement.ts';
import { months, seasons } from '../vocabulary.ts';
import { daysInMonth } from './date.ts';

/** `mar-01`, `last-frost`: a day of the year. `fault` says why not; one digit is read. */
export function readYearDay(word: string): YearDay | { readonly fault: 'no-such-day' } | undefined {
  if (word === 'growth' || word === 'last-frost' || word === 'first-frost') return { edge: word };
  const parts = /^([a-z]{3})-(\d{1,2})$/.exec(word);
  const month = months.indexOf((parts?.[1] ?? '') as (typeof months)[number]) + 1;
  if (!parts || month === 0) return undefined;
  const day = Number(parts[2]);
  // 2024 is a leap year: feb-29 is a day, the 28th in other years
  return day < 1 || day > daysInMonth(2024, month) ? { fault: 'no-such-day' } : { month, day };
}

/** Days no month has put at its end: `feb-30..mar-15` is near `feb-28..mar-15`. */
export function nearYearDays(words: string): string | undefined {
  const near = words.replace(/([a-z]{3})-(\d{1,2})/g, (whole, name: (typeof months)[number], day: string) => {
    const month = months.indexOf(name) + 1;
    return month > 0 && Number(day) > daysInMonth(2024, month) ? `${name}-${daysInMonth(2023, month)}` : whole;
  });
  return near === words || /-0?0(?!\d)/.test(near) ? undefined : near;
}

const wholeMonth = (month: number): YearPart => ({
  from: { month, day: 1 },
  to: { month, day: daysInMonth(2024, month) },
});

/** One word of `off`, `made`, `collected`, `within`: a month, a season, `growth`, or a span of days or months. */
export function readYearPart(word: string): YearPart | { readonly fault: 'no-such-day' } | undefined {
  if (word === 'growth') return { growth: true };
  const named = word === 'fall' ? 'autumn' : word;
  if ((seasons as readonly string[]).includes(named)) return { season: named as (typeof seasons)[number] };
  const month = months.indexOf(word as (typeof months)[number]) + 1;
  if (month > 0) return wholeMonth(month);
  const [left, right, more] = word.split('..');
  if (left === undefined || right === undefined || more !== undefined) return undefined;
  const from = edge(left, 'from');
  const to = edge(right, 'to');
  if (!from || !to) return undefined;
  if ('fault' in from || 'fault' in to) return { fault: 'no-such-day' };
  return { from, to };
}

function edge(word: string, side: 'from' | 'to'): YearDay | { readonly fault: 'no-such-day' } | undefined {
  const month = months.indexOf(word as (typeof months)[number]) + 1;
  if (month > 0) return { month, day: side === 'from' ? 1 : daysInMonth(2024, month) };
  return readYearDay(word);
}
