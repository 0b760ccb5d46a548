import { DateTime } from 'luxon';
import type { Day } from '#grammar/statement.ts';
import { toDay } from '#grammar/values/date.ts';

/** The day of a moment in a zone; a zone nobody knows is the machine's own. */
export function dayAt(milliseconds: number, zone: string | undefined): Day {
  const here = DateTime.fromMillis(milliseconds);
  const there = zone ? here.setZone(zone) : here;
  const { year, month, day } = there.isValid ? there : here;
  return toDay(year, month, day);
}
