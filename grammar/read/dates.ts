import type { IToken } from 'chevrotain';
import type { Mend, Problem, Span } from '../finding.ts';
import { end } from '../sort-words.ts';
import type { Day } from '../statement.ts';
import { DateWord } from '../tokens.ts';
import { dayOf, daysInMonth, isoDay, monthNames, two } from '../values/date.ts';

export const spanOf = (token: IToken): Span => ({ start: token.startOffset, end: end(token) });

/** A date as written, or what keeps it from being one. What is read in spite of its spelling is a warning. */
export function readDate(token: IToken, problems: Problem[]): Day | undefined {
  return token.tokenType === DateWord ? isoDate(token, problems) : otherDate(token, problems);
}

function isoDate(token: IToken, problems: Problem[]): Day | undefined {
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
      mends: [{ ...dateMend(token, iso), safe: true }],
    });
  return found;
}

/** `9.10.2026`: both readings are offered, none is guessed. */
function otherDate(token: IToken, problems: Problem[]): undefined {
  const [a = 0, b = 0, written = 0] = token.image.split(/[./]/).map(Number);
  const year = written < 100 ? 2000 + written : written;
  const readings = [dayOf(year, b, a), dayOf(year, a, b)].filter((day) => day !== undefined);
  const days = [...new Set(readings)].map(isoDay);
  problems.push({
    code: 'bad-date',
    severity: 'error',
    span: spanOf(token),
    message:
      days.length === 0
        ? `${token.image} is not a day; dates are written year-month-day: 2026-10-09.`
        : `${token.image} is read ${days.length === 2 ? 'two ways' : 'differently in other countries'}: ${days.join(' or ')}.`,
    mends: days.map((day) => dateMend(token, day)),
  });
  return undefined;
}

const dateMend = (token: IToken, iso: string): Mend => ({
  title: `Make it ${iso}`,
  edits: [{ span: spanOf(token), text: iso }],
});
