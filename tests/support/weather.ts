import { isoDay } from '#grammar/values/date.ts';
import { Answers } from '#server/engine/answers.ts';
import type { Log } from '#server/engine/log.ts';
import type { WeatherText } from '#server/engine/station-lines.ts';
import { weatherPath } from '#server/engine/weather-path.ts';
import { dayOf } from './log.ts';

export type Files = Readonly<Record<string, string | WeatherText>>;

/** A log with the files its `weather` lines name, by their path from the log's root. */
export function answersOf(log: Log, on: string, files: Files = {}): Answers {
  const texts = new Map(
    Object.entries(files).map(([path, file]) => [path, typeof file === 'string' ? { text: file } : file]),
  );
  return new Answers(log, dayOf(on), (entry) => texts.get(weatherPath(entry) ?? '') ?? { unread: 'missing' });
}

/** The CSV of a station: minimum and maximum of each day in °C, written in tenths as GHCN-Daily has them. */
export function stationText(
  from: string,
  to: string,
  figures: (iso: string, day: number) => readonly [number, number],
): string {
  const rows = ['DATE,TMIN,TMAX'];
  for (let day = dayOf(from); day <= dayOf(to); day++) {
    const [min, max] = figures(isoDay(day), day);
    rows.push(`${isoDay(day)},${Math.round(min * 10)},${Math.round(max * 10)}`);
  }
  return rows.join('\n');
}

/** Mild winters and summers of 25 °C, but for the nights named. */
export const mild = (from: string, to: string, nights: Readonly<Record<string, number>> = {}): string =>
  stationText(from, to, (iso) => [nights[iso] ?? 2, /-0[678]-/.test(iso) ? 25 : 10]);
