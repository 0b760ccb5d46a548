import type { IToken } from 'chevrotain';
import type { Mend, Problem, Span } from '../finding.ts';
import { end } from '../sort-words.ts';
import type { Day } from '../statement.ts';
import { DateWord } from '../tokens.ts';
import { dayOf, daysInMonth, isoDay, monthNames, parseIso, two } from '../values/date.ts';

export const spanOf = (token: IToken): Span => ({ start: token.startOffset, end: end(token) });

/** A date as written, or what keeps it from being one. What is read in spite of its spelling is a warning. */
export function readDate(token: IToken, problems: Problem[]): Day | undefined {
  return token.tokenType === DateWord ? isoDate(token, problems) : otherDate(token, problems);
}

function isoDate(token: IToken, problems: Problem[]): Day | undefined {
  const day = token.image.length === 10 ? parseIso(token.image) : undefined;
  return day ?? looseDate(token, problems);
}

function looseDate(token: IToken, problems: Problem[]): Day | undefined {
  const [year = 0, month = 0, day = 0] = token.image.split('-').map(Number);
  const found = dayOf(year, month, day);
  if (found === undefined) {
    const why =
      month < 1 || month > 12
        ? `there is no month ${month}`
        : year < 1
          ? 'there is no year 0'
          : `${monthNames[month - 1]} ${year} has ${daysInMonth(year, month)}`;
    problems.push({
      code: 'bad-date',
      severity: 'error',
      span: spanOf(token),
      message: `${token.image} is not a day: ${why}.`,
      ...mendsOf(nearDays(year, month, day), spanOf(token)),
    });
    return undefined;
  }
  const iso = `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}`;
  if (iso !== token.image)
    problems.push({
      code: 'bad-date',
      severity: 'warning',
      span: spanOf(token),
      message: `${token.image} is read as ${iso}: months and days have two digits.`,
      mends: [{ ...dateMend(spanOf(token), iso), safe: true }],
    });
  return found;
}

/** What may have been meant: month and day turned round, or the days at the month's end. */
function nearDays(year: number, month: number, day: number): Day[] {
  const last = month >= 1 && month <= 12 && day <= 31 ? dayOf(year, month, daysInMonth(year, month)) : undefined;
  const days = month > 12 ? [dayOf(year, day, month)] : last === undefined || day < 1 ? [] : [last, last + 1];
  return days.filter((one) => one !== undefined);
}

const mendsOf = (days: readonly Day[], span: Span): { readonly mends?: readonly Mend[] } =>
  days.length > 0 ? { mends: days.map((day) => dateMend(span, isoDay(day))) } : {};

/** `9.10.2026`: both readings are offered, none is guessed. */
function otherDate(token: IToken, problems: Problem[]): undefined {
  const [a = 0, b = 0, c = 0] = token.image.split(/[./]/).map(Number);
  const year = c < 100 ? 2000 + c : c;
  const yearFirst = /^\d{4}/.test(token.image);
  const readings = yearFirst ? [dayOf(a, b, c)] : [dayOf(year, b, a), dayOf(year, a, b)];
  const found = [...new Set(readings.filter((day) => day !== undefined))];
  const days = found.map(isoDay);
  const said =
    days.length === 0
      ? 'is not a day; dates are written year-month-day: 2026-10-09.'
      : days.length === 2
        ? `is read two ways: ${days.join(' or ')}.`
        : yearFirst
          ? `is written with hyphens: ${days[0]}.`
          : `is written with the year first: ${days[0]}.`;
  problems.push({
    code: 'bad-date',
    severity: 'error',
    span: spanOf(token),
    message: `${token.image} ${said}`,
    ...mendsOf(found, spanOf(token)),
  });
  return undefined;
}

/** Minutes since midnight. */
export function readTime(token: IToken, problems: Problem[]): number | undefined {
  const [hours = 0, minutes = 0] = token.image.split(':').map(Number);
  if (hours < 24 && minutes < 60) return hours * 60 + minutes;
  problems.push({
    code: 'bad-date',
    severity: 'error',
    span: spanOf(token),
    message: `${token.image} is no time of day: 00:00 to 23:59.`,
  });
  return undefined;
}

/** Behind a date: `14.30`, `9:5`, `14:30:00`. */
export function spelledTime(text: string, from: number): Problem | undefined {
  const parts = /^(\s*)(\d{1,2})[.:h](\d{1,2})(?::\d{2})?(?![\w.])/.exec(text.slice(from));
  if (!parts) return undefined;
  const [whole, blank = '', hours = '', minutes = ''] = parts;
  const span = { start: from + blank.length, end: from + whole.length };
  const time = `${hours}:${two(Number(minutes))}`;
  const fits = Number(hours) < 24 && Number(minutes) < 60;
  return {
    code: 'bad-date',
    severity: 'error',
    span,
    message: `${whole.trim()}: a time of day is written ${fits ? time : '14:30'}.`,
    ...(fits ? { mends: [dateMend(span, time)] } : {}),
  };
}

const monthWord = '(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*';
const spellings = [
  /^(?<y>\d{4})(?<m>\d{2})(?<d>\d{2})(?!\d)/,
  /^(?<y>\d{4})-(?<m>\d{1,2})-(?<d>\d{1,2})(?=\p{L})/u,
  /^(?<d>\d{1,2})-(?<m>\d{1,2})-(?<y>\d{4})(?!\d)/,
  /^(?<y>\d{4})-(?<m>\d{1,2})-?(?![\d-])/,
  new RegExp(`^(?<d>\\d{1,2})(?:st|nd|rd|th|\\.)?\\s+(?<n>${monthWord})\\.?,?(?:\\s+(?<y>\\d{4}))?(?!\\w)`, 'i'),
  new RegExp(`^(?<n>${monthWord})\\.?\\s+(?<d>\\d{1,2})(?:st|nd|rd|th)?(?:,?\\s+(?<y>\\d{4}))?(?!\\w)`, 'i'),
];

/** `9 Oct 2026`, `20261009`: a day some hand wrote its own way. As a day line it must not leave the lines below to the day above. */
export function spelledDate(text: string): Problem | undefined {
  const start = text.length - text.trimStart().length;
  for (const spelling of spellings) {
    const parts = spelling.exec(text.slice(start));
    const { y, m, d, n } = parts?.groups ?? {};
    if (!parts || (n && !y && parts[0].length < text.trim().length)) continue;
    const span = { start, end: start + parts[0].length };
    const month = n
      ? monthNames.findIndex((name) => name.toLowerCase().startsWith(n.slice(0, 3).toLowerCase())) + 1
      : Number(m);
    const year = Number(y);
    const readings = y && d ? [dayOf(year, month, Number(d))] : [];
    if (/^\d{1,2}-/.test(parts[0])) readings.push(dayOf(year, Number(d), Number(m)));
    const days = [...new Set(readings.filter((day) => day !== undefined))].map(isoDay);
    const glued = /^\S/.test(text.slice(span.end));
    return {
      code: 'bad-date',
      severity: 'error',
      span,
      message:
        days.length === 0
          ? `${parts[0]}: dates are written year-month-day, 2026-10-09.`
          : glued
            ? `A blank belongs behind the date: ${days.join(' or ')}.`
            : `${parts[0]} is written ${days.join(' or ')}.`,
      ...(days.length > 0 ? { mends: days.map((day) => dateMend(span, day, glued ? ' ' : '')) } : {}),
    };
  }
  return undefined;
}

const dateMend = (span: Span, iso: string, behind = ''): Mend => ({
  title: `Make it ${iso}`,
  edits: [{ span, text: iso + behind }],
});
