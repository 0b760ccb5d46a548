import type { Problem } from './finding.ts';
import type { Day, Line } from './statement.ts';
import { addMonths, isoDay } from './values/date.ts';
import { verbRow } from './vocabulary.ts';

/** What a line hands down to those under it. */
export interface Carry {
  /** Of the day line above; absent before the first one, and under one that can't be read. */
  readonly day?: Day;
  /** The day line above can't be read: what stands under it takes no part and isn't reported. */
  readonly lost: boolean;
  /** The nearest day line above that could be read: what the next one is held against. */
  readonly above?: Day;
  /** Of the last timed line in that day. */
  readonly minute: number;
  /** Lines with a date of their own, one below the other in one day, hand their time down as well. */
  readonly own?: Day;
  readonly ownMinute: number;
}

export interface Dated {
  readonly day?: Day;
  readonly minute: number;
  readonly problems?: readonly Problem[];
  readonly after: Carry;
}

export const nothingCarried: Carry = { lost: false, minute: 0, ownMinute: 0 };

/** A day line further back than this is more likely last year's number than a real step back. */
const farBack = 300;

/** The day and time of a line under what is carried to it, and what it carries on. */
export function carry(line: Line, above: Carry): Dated {
  if (isDayLine(line)) return dayLine(line, above);
  const minute = line.time?.minutes;
  if (line.dateLost) return { minute: minute ?? 0, after: above };
  const day = line.date?.day;
  if (day === undefined || day === above.day) {
    const at = minute ?? above.minute;
    const after = at === above.minute ? above : { ...above, minute: at };
    if (above.day !== undefined) return { day: above.day, minute: at, after };
    const problems = above.lost ? undefined : undated(line);
    return { minute: at, after, ...(problems ? { problems } : {}) };
  }
  const at = minute ?? (day === above.own ? above.ownMinute : 0);
  return { day, minute: at, after: { ...above, own: day, ownMinute: at } };
}

export function sameCarry(a: Carry, b: Carry): boolean {
  if (a === b) return true;
  if (a.day !== b.day || a.lost !== b.lost || a.above !== b.above || a.minute !== b.minute) return false;
  return a.own === b.own && a.ownMinute === b.ownMinute;
}

/** A date, a time, or both, and nothing else but a comment and the marks between words: `2026-10-09:` is one. */
export function isDayLine(line: Line): boolean {
  if (line.statement || !(line.date || line.time || line.dateLost)) return false;
  // what can't be read as a date ends with its problem
  const lost = line.dateLost ? line.problems.map(({ span }) => span.end) : [];
  const end = Math.max(line.date?.span.end ?? 0, line.time?.span.end ?? 0, ...lost);
  return /^[\s\uFEFF,;:=]*$/.test(line.text.slice(end, line.comment?.start ?? line.text.length));
}

/** A day line that gives a day, or was to give one: a time alone goes on with the day it stands in. */
export const beginsDay = (line: Line): boolean =>
  (line.date !== undefined || line.dateLost === true) && isDayLine(line);

function dayLine(line: Line, above: Carry): Dated {
  const minute = line.time?.minutes;
  if (line.dateLost) {
    return {
      minute: 0,
      after: { lost: true, minute: 0, ownMinute: 0, ...(above.above === undefined ? {} : { above: above.above }) },
    };
  }
  if (!line.date) {
    const at = minute ?? above.minute;
    return { ...(above.day === undefined ? {} : { day: above.day }), minute: at, after: { ...above, minute: at } };
  }
  const { day } = line.date;
  const at = minute ?? (day === above.day ? above.minute : 0);
  const problems = steppedBack(line.date, above.above);
  return {
    day,
    minute: at,
    ...(problems ? { problems } : {}),
    after: { day, lost: false, above: day, minute: at, ownMinute: 0 },
  };
}

function undated(line: Line): readonly Problem[] | undefined {
  const statement = line.statement;
  if (!statement || statement.idle || verbRow(statement.verb).kind !== 'work') return undefined;
  const word = line.text.slice(statement.verbSpan.start, statement.verbSpan.end);
  return [
    {
      code: 'no-date',
      severity: 'error',
      span: statement.verbSpan,
      message: `\`${word}\` has no day: begin the line with one, \`2026-10-09 ${word} …\`, or put it on a line of its own above.`,
    },
  ];
}

function steppedBack(date: NonNullable<Line['date']>, above: Day | undefined): readonly Problem[] | undefined {
  if (above === undefined || above - date.day <= farBack) return undefined;
  const next = isoDay(addMonths(date.day, 12));
  return [
    {
      code: 'bad-date',
      severity: 'warning',
      span: date.span,
      message: `${isoDay(date.day)} is ${above - date.day} days before the day line above it, ${isoDay(above)}: last year’s number?`,
      mends: [{ title: `Make it ${next}`, edits: [{ span: date.span, text: next }] }],
    },
  ];
}
