import type { Day } from '#grammar/statement.ts';
import { fromDay, isoDay, toDay } from '#grammar/values/date.ts';

/** How a spreadsheet counts days: from 1900 as most do, or from 1904 as sheets of older Macs do. */
export const daySystems = ['1900', '1904'] as const;
export type DaySystem = (typeof daySystems)[number];
export const isDaySystem = (word: string): word is DaySystem => (daySystems as readonly string[]).includes(word);

/**
 * Day 0 of each. The first counts a 29 February 1900 that never was: from March 1900 on its days are a day less from
 * 1 January (Office Open XML, ECMA-376 part 1, 18.17.4.1; from memory).
 */
const start = { '1900': toDay(1899, 12, 30), '1904': toDay(1904, 1, 1) } as const;

/** A cell that is a spreadsheet's own number for a day of the years 1927 to 2100, and the time of day behind its point. */
export interface DayNumber {
  readonly days: Readonly<Record<DaySystem, Day>>;
  /** `14:30`; absent at midnight. */
  readonly time?: string;
}

export function readDayNumber(cell: string): DayNumber | undefined {
  const [, whole, part = ''] = /^\s*(\d{5})(\.\d+)?\s*$/.exec(cell) ?? [];
  if (whole === undefined) return undefined;
  const days = { '1900': start['1900'] + Number(whole), '1904': start['1904'] + Number(whole) };
  if (fromDay(days['1900']).year > 2100) return undefined;
  const minutes = Math.round(Number(`0${part}`) * 24 * 60);
  if (minutes === 0 || minutes === 24 * 60) return { days };
  return { days, time: `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, '0')}` };
}

/** Whether a column's cells, blank ones apart, are all such numbers: a few among dates may be anything. */
export const areDayNumbers = (cells: readonly string[]): boolean =>
  cells.length > 0 && cells.every((cell) => readDayNumber(cell) !== undefined);

/** The cells of a sheet's columns of day numbers, in their order. */
export interface NumberedCell {
  readonly header: string;
  readonly row: number;
  readonly cell: string;
}

/**
 * Which way a sheet counts: one for all its columns. Nothing in it can be later than today, and from 1904 all days are
 * four years later; where both ways are past, only its owner knows.
 */
export function daySystemOf(
  cells: readonly NumberedCell[],
  today: Day,
): { readonly system: DaySystem; readonly decided: string } | { readonly ask: string } {
  const read = cells.flatMap((one) => {
    const days = readDayNumber(one.cell)?.days;
    return days ? [{ ...one, cell: one.cell.trim(), days }] : [];
  });
  const [first] = read;
  if (!first) return { system: '1900', decided: '' };
  const late = read.find(({ days }) => days['1904'] > today);
  const said = ({ cell, days }: typeof first, system: DaySystem) => `${cell} is ${isoDay(days[system])}`;
  if (late)
    return {
      system: '1900',
      decided: `${said(late, '1900')}; from 1904 it would be ${isoDay(late.days['1904'])}, still to come`,
    };
  return {
    ask: `“${first.cell}” (row ${first.row} of “${first.header}”) is a spreadsheet’s own number for a day: ${isoDay(first.days['1900'])} (--dates 1900: most spreadsheets) or ${isoDay(first.days['1904'])} (--dates 1904: older ones on a Mac): say which.`,
  };
}
