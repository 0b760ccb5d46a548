import type { Day } from '#grammar/statement.ts';
import { dayOf, isoDay, monthNames } from '#grammar/values/date.ts';

/** How figures alone are read: year first, month first (USA), day first (Europe). */
export const dateOrders = ['iso', 'us', 'eu'] as const;
export type DateOrder = (typeof dateOrders)[number];

/** A cell that has the shape of a date: the day in each order that makes one of it. */
export interface DateCell {
  readonly days: Readonly<Partial<Record<DateOrder, Day>>>;
  /** Behind the date, unless it is midnight: `14:30`. */
  readonly time?: string;
}

const figures = /^(\d{1,4})([-/.])(\d{1,2})\2(\d{1,4})$/;
const monthWord = '(jan|feb|mar|apr|may|june?|july?|aug|sept?|oct|nov|dec|[a-z]{4,9})';
const dayFirst = new RegExp(`^(\\d{1,2})(?:st|nd|rd|th)?[-. /]+${monthWord}\\.?[-, /]+(\\d{4}|\\d{2})$`, 'i');
const monthFirst = new RegExp(`^${monthWord}\\.?[-. /]+(\\d{1,2})(?:st|nd|rd|th)?[-, /]+(\\d{4}|\\d{2})$`, 'i');
const yearFirst = new RegExp(`^(\\d{4})[- /]${monthWord}[- /](\\d{1,2})$`, 'i');
const clock = /[T ,]+(\d{1,2}:\d{2})(?::\d{2}(?:\.\d+)?)?(?: ?[ap]m| ?Z)?$/i;

/** Longer than any date with its weekday and time. */
const longest = 60;

/** What a cell says as a date; `undefined` where it has no date's shape. */
export function readDateCell(cell: string): DateCell | undefined {
  if (cell.length > longest) return undefined;
  const text = cell.trim().replace(/^[a-z]{2,9}[,.]\s+(?=\d)/i, '');
  const time = clock.exec(text);
  const days = daysOf(time ? text.slice(0, time.index) : text);
  if (!days) return undefined;
  const midnight = time === null || /^0?0:00$/.test(time[1] ?? '');
  return { days, ...(midnight ? {} : { time: (time?.[0] ?? '').replace(/^[T ,]+/i, '') }) };
}

function daysOf(text: string): DateCell['days'] | undefined {
  const compact = /^((?:19|20)\d\d)(\d\d)(\d\d)$/.exec(text);
  if (compact) return same(dateOf(compact[1], Number(compact[2]), compact[3]));
  const numbers = figures.exec(text);
  if (numbers) {
    const [, first = '', mark, second = '', third = ''] = numbers;
    if (first.length === 4) return third.length <= 2 ? same(dateOf(first, Number(second), third)) : undefined;
    if (first.length > 2 || third.length === 3 || third.length === 1) return undefined;
    // a short year may stand first only as it does in ISO 8601 of 1988: 24-05-01
    const short = third.length === 2 && mark === '-' && first.length === 2;
    return present({
      iso: short ? dateOf(first, Number(second), third) : undefined,
      us: dateOf(third, Number(first), second),
      eu: dateOf(third, Number(second), first),
    });
  }
  const [, a = '', b = '', c = ''] = dayFirst.exec(text) ?? [];
  if (a) return named(c, b, a);
  const [, d = '', e = '', f = ''] = monthFirst.exec(text) ?? [];
  if (d) return named(f, d, e);
  const [, g = '', h = '', i = ''] = yearFirst.exec(text) ?? [];
  return g ? named(g, h, i) : undefined;
}

/** Four figures, or two of this century; years no graft on record can be from make no day. */
function dateOf(year: string | undefined, month: number, day: string | undefined): Day | undefined {
  const full = year?.length === 2 ? 2000 + Number(year) : Number(year);
  return full < 1900 || full > 2100 ? undefined : dayOf(full, month, Number(day));
}

function named(year: string, word: string, day: string): DateCell['days'] | undefined {
  const start = word.toLowerCase();
  const month = monthNames.findIndex((name) => name.toLowerCase().startsWith(start === 'sept' ? 'sep' : start)) + 1;
  return month > 0 ? same(dateOf(year, month, day)) : undefined;
}

const same = (day: Day | undefined) => present({ iso: day, us: day, eu: day });

function present(days: Record<DateOrder, Day | undefined>): DateCell['days'] {
  return Object.fromEntries(Object.entries(days).filter(([, day]) => day !== undefined));
}

/** A column's dates, by the row they stand in. */
export interface DateColumn {
  readonly header: string;
  readonly cells: readonly { readonly row: number; readonly cell: string }[];
}

export type OrderFound =
  | { readonly order: DateOrder; readonly decided?: string }
  /** The sentence that asks, where no order or more than one fits the column. */
  | { readonly ask: string };

const flagOf = { iso: 'the year first', us: 'the month first', eu: 'the day first' } as const;

/** The one order in which every date of the column is a day. Orders that give the same days are one. */
export function orderOf({ header, cells }: DateColumn): OrderFound {
  const read = cells.flatMap(({ row, cell }) => {
    const days = readDateCell(cell)?.days;
    return days && Object.keys(days).length > 0 ? [{ row, cell: cell.trim(), days }] : [];
  });
  const turned = read.filter(({ days }) => dateOrders.some((order) => days[order] !== days.us));
  const first = turned[0];
  if (!first) return { order: 'iso' };
  const fitting = dateOrders.filter((order) => turned.every(({ days }) => days[order] !== undefined));
  const [order, other] = fitting.filter(
    (one, i) => !fitting.slice(0, i).some((before) => turned.every(({ days }) => days[before] === days[one])),
  );
  if (order === undefined) return { ask: torn(header, turned) };
  const split = other && turned.find(({ days }) => days[order] !== days[other]);
  if (split && other)
    return {
      ask: `“${split.cell}” (row ${split.row} of “${header}”) is ${readingText(split.days, order)} or ${readingText(split.days, other)}, and no row of the column decides: say which.`,
    };
  if (fitting.length > 1) return { order };
  const decisive = turned.find(({ days }) => dateOrders.every((one) => (days[one] === undefined) === (one !== order)));
  return {
    order,
    decided: decisive
      ? `${flagOf[order]}, as row ${decisive.row} shows: ${decisive.cell}`
      : `${flagOf[order]}, the only way all rows are days`,
  };
}

const readingText = (days: DateCell['days'], order: DateOrder) =>
  `${isoDay(days[order] as Day)} (--dates ${order}: ${flagOf[order]})`;

/** No order fits all: one row of each kind is shown. */
function torn(header: string, rows: readonly { row: number; cell: string; days: DateCell['days'] }[]): string {
  const shown = dateOrders.flatMap((order) => {
    const only = rows.find(({ days }) => days[order] !== undefined && !dateOrders.some((o) => o !== order && days[o]));
    return only ? [`“${only.cell}” (row ${only.row}) is a day only with ${flagOf[order]} (--dates ${order})`] : [];
  });
  return `“${header}” has dates of two kinds: ${shown.join(', ')}: say which; rows that don’t fit are left.`;
}
