import type { Day } from '#grammar/statement.ts';
import type { WorkItem } from '#server/engine/model.ts';
import { dayText, hoursText } from '#server/engine/say.ts';
import { levelWork } from '#server/engine/work/level.ts';

/**
 * This week's work beside the hours there are: `1.6 h of 5.1 h till 22 Jun`, and what is short. Of a week begun late its
 * days' share is there.
 *
 * @param hours a week
 */
export function weekHours(work: readonly WorkItem[], day: Day, hours: number): string {
  const week = levelWork(work, { day, hours }).weeks[0];
  if (!week) return '';
  const short = week.short > 0 ? `, ${hoursText(week.short)} short` : '';
  return `${hoursText(week.taken)} of ${hoursText(week.minutes)} till ${dayText(week.to)}${short}`;
}
