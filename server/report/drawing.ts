import { scaleLinear } from 'd3-scale';
import type { Day } from '#grammar/statement.ts';
import { addMonths, fromDay, toDay } from '#grammar/values/date.ts';
import { dayText } from '#server/engine/say.ts';
import { escaped } from './html.ts';

/*
 * Drawings stretch with the page: across they are measured in per cent of their width, up and down in pixels, so that
 * text keeps its size on a phone and on paper.
 */

/** Where a value lies across a drawing. */
export interface Across {
  /** Per cent of the width, as a number. */
  at(value: number): number;
  /** The same as an attribute, `12.5%`. */
  x(value: number): string;
  ticks(count: number): number[];
}

export function across(low: number, high: number): Across {
  const scale = scaleLinear().domain([low, high]).range([0, 100]).clamp(true);
  return { at: scale, x: (value) => `${short(scale(value))}%`, ticks: (count) => scale.ticks(count) };
}

/** Two digits are finer than a printer's dot. */
export const short = (figure: number): string => String(Math.round(figure * 100) / 100);

/** First days of the months of a stretch, every so many of them that at most nine are named. */
export function monthsOf(from: Day, to: Day): Day[] {
  const { year, month } = fromDay(from);
  const first = toDay(year, month, 1);
  const all: Day[] = [];
  for (let i = 0, day = first; day <= to; day = addMonths(first, ++i)) if (day >= from) all.push(day);
  const every = Math.ceil(all.length / 9);
  return all.filter((_, i) => i % every === 0);
}

const monthText = (day: Day): string => dayText(day).replace(/^\d+ /, '');

/** A drawing that stands by itself: read out as its title and what it shows. */
export function figure(
  id: string,
  { title, told, height }: { readonly title: string; readonly told: string; readonly height: number },
  content: string,
): string {
  return `<svg role="img" aria-labelledby="${id}-title ${id}-desc" width="100%" height="${height}"><title id="${id}-title">${escaped(title)}</title><desc id="${id}-desc">${escaped(told)}</desc>${content}</svg>`;
}

/** A drawn cell of a table: the row's own words say the same. */
export const cell = (height: number | string, content: string): string =>
  `<svg aria-hidden="true" width="100%" height="${height}">${content}</svg>`;

export function line(kind: string, x1: string, x2: string, y1: number | string, y2: number | string): string {
  return `<line class="${kind}" x1="${x1}" x2="${x2}" y1="${y1}" y2="${y2}"/>`;
}

export function bar(kind: string, from: number, to: number, y: number | string, height: number | string): string {
  return `<rect class="${kind}" x="${short(from)}%" width="${short(Math.max(0, to - from))}%" y="${y}" height="${height}"/>`;
}

/** Upright lines at months, behind what is drawn. */
export const monthLines = (scale: Across, months: readonly Day[], height: number): string =>
  months.map((day) => line('rule', scale.x(day), scale.x(day), 0, height)).join('');

/** Names of months over a drawn column. */
export const monthHead = (scale: Across, months: readonly Day[], today?: Day): string =>
  cell(
    16,
    months
      .filter((day) => scale.at(day) < 94 && (today === undefined || Math.abs(scale.at(today) - scale.at(day)) > 9))
      .map((day) => `<text x="${scale.x(day)}" y="12">${monthText(day)}</text>`)
      .join('') +
      (today === undefined
        ? ''
        : `<text class="strong" x="${scale.x(today)}" y="12" text-anchor="${scale.at(today) > 90 ? 'end' : 'middle'}">today</text>`),
  );

/** The two hatchings, for the whole page. */
export const patterns = `<svg class="hidden" aria-hidden="true" width="0" height="0"><defs><pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse"><path d="M-1 7L7-1"/></pattern><pattern id="hatch-back" width="5" height="5" patternUnits="userSpaceOnUse"><path d="M-1-1L6 6"/></pattern></defs></svg>`;
