import { isoDay, parseIso } from '#grammar/values/date.ts';
import type { CheckWeather } from '#server/engine/checks/case.ts';
import { checkEnv } from '#server/engine/checks/env.ts';
import { type LogView, readLog } from '#server/engine/engine.ts';
import type { Entry, Finding, WorkItem } from '#server/engine/model.ts';
import { nextWork } from '#server/engine/work/next.ts';
import { overdueFindings } from '#server/engine/work/overdue.ts';

/** The log as it stood with its first so many lines; an empty first line doesn't count. */
export const firstLines = (text: string, count: number): string =>
  text.replace(/^\n/, '').split('\n').slice(0, count).join('\n');

function opened(text: string, on: string, weather?: CheckWeather) {
  const day = parseIso(on) as number;
  const view = readLog([{ file: 'log.graft', text: text.replace(/^\n/, '') }], { day });
  const env = checkEnv(view.log, day, weather);
  return { view, env };
}

/** All work of a log on a day, batch by batch. */
export function workIn(text: string, on: string, weather?: CheckWeather): WorkItem[] {
  const { view, env } = opened(text, on, weather);
  return [...view.batches()].sort().flatMap((batch) => nextWork(view.history(batch), env));
}

/** The number of the line that a piece of work points at, from 1. */
export function linesOf(text: string, on: string): string[] {
  const { view, env } = opened(text, on);
  return [...view.batches()]
    .sort()
    .flatMap((batch) => nextWork(view.history(batch), env))
    .map((item) => `${item.grafts} ${item.what} ${lineNumber(view, item.entry)}`);
}

/** One line a piece: `A1.1..18 open 2027-04-15..2027-04-19 soon to 25..30 %`. */
export function workLines(text: string, on: string, weather?: CheckWeather): string[] {
  return workIn(text, on, weather).map(lineOf);
}

export function lineOf({ grafts, count, what, from, by, state, to, batch }: WorkItem): string {
  const set = grafts === batch.name ? `${grafts} x${count}` : grafts;
  const share = to ? ` to ${Math.round(to.low * 100)}..${Math.round(to.high * 100)} %` : '';
  return `${set} ${what} ${isoDay(from)}..${isoDay(by)} ${state}${share}`;
}

/** From 1, as an editor counts. */
const lineNumber = ({ log }: LogView, entry: Entry) => (log.document(entry.file)?.entries.indexOf(entry) ?? -1) + 1;

/** Findings `overdue`: line number from 1, set, message. */
export function overdueIn(text: string, on: string, weather?: CheckWeather): string[] {
  const { view, env } = opened(text, on, weather);
  const found: Finding[] = [...view.batches()].flatMap((batch) => {
    const history = view.history(batch);
    return [...overdueFindings(nextWork(history, env), history, env)];
  });
  return found
    .sort((a, b) => a.entry.rank - b.entry.rank)
    .map(
      ({ entry, severity, message }) => `${lineNumber(view, entry)} ${severity} ${message.replaceAll('\u00A0', ' ')}`,
    );
}
