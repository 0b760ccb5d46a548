import { isoDay } from '#grammar/values/date.ts';
import type { WorkItem } from '#server/engine/model.ts';
import { dayText, hoursText, rangeText, toText, workTitle } from '#server/engine/say.ts';
import { type Levelled, type LevelWeek, levelWork } from '#server/engine/work/level.ts';
import { columns, inert, short } from '#server/report/text-page.ts';
import { UsageError } from './options.ts';
import type { Page } from './print.ts';

/** Weeks shown in text; JSON has all of them. */
const shown = 8;

export function readHours(asked: string | boolean): number {
  const hours = Number(asked);
  if (typeof asked !== 'string' || asked.trim() === '' || !Number.isFinite(hours) || hours < 0 || hours > 168)
    throw new UsageError('--hours asks for the hours you have a week, 0 to 168: --hours 12.');
  return hours;
}

export function levelled(work: readonly WorkItem[], day: number, hours: number): Levelled {
  return levelWork(work, { day, hours });
}

/** The work week by week inside the hours there are, and what can't fit. */
export function weeksText({ weeks, short: left, shortage }: Levelled, hours: number, day: number, page: Page): string {
  const { color } = page;
  const out: string[] = [color.bold(`Work in ${hoursText(hours * 60)} a week, earliest deadline first`)];
  const busy = weeks.filter((week) => week.tasks.length > 0);
  for (const week of busy.slice(0, shown)) out.push('', color.bold(weekHead(week, day)), ...taskLines(week.tasks));
  if (busy.length > shown)
    out.push('', `and ${busy.length - shown} more weeks with work, to ${dayText(busy.at(-1)?.to ?? day, day)}`);
  if (busy.length === 0) out.push('', 'Nothing is to be done.');
  if (shortage > 0) {
    out.push('', color.red(`${hoursText(shortage)} too much for the hours there are:`));
    out.push(...taskLines(left));
  }
  return `${out.join('\n')}\n`;
}

function weekHead(week: LevelWeek, day: number): string {
  const over = week.short > 0 ? `, ${hoursText(week.short)} short` : '';
  return `${rangeText(week.from, week.to, day)}: ${hoursText(week.taken)} of ${hoursText(week.minutes)}${over}`;
}

function taskLines(tasks: LevelWeek['tasks']): string[] {
  return columns(
    tasks.map(({ item, count, minutes }) => [
      `  ${short(inert(item.grafts), 24)}`,
      title(item),
      String(count),
      hoursText(minutes),
    ]),
    new Set([2, 3]),
  );
}

const title = (item: WorkItem) => (item.to ? `${workTitle(item)} ${toText(item.to)}` : workTitle(item));

export function weeksJson({ weeks, shortage }: Levelled) {
  return {
    shortage,
    weeks: weeks.map(({ from, to, minutes, taken, short, tasks }) => ({
      from: isoDay(from),
      to: isoDay(to),
      minutes,
      taken,
      short,
      tasks: tasks.map(({ item, count, minutes: needed }) => ({
        what: item.what,
        grafts: item.grafts,
        batch: item.batch.name,
        count,
        minutes: needed,
      })),
    })),
  };
}
