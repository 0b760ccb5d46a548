import { DateTime } from 'luxon';
import type { Day } from '#grammar/statement.ts';
import { toDay } from '#grammar/values/date.ts';

let known: { zone: string | undefined; quarter: number; day: Day } | undefined;
const quarterHour = 15 * 60_000;

/** The day of a moment in a zone; a zone nobody knows is the machine's own. */
export function dayAt(milliseconds: number, zone: string | undefined): Day {
  // asked with every key; a zone's midnight always falls on a quarter of an hour
  const quarter = Math.floor(milliseconds / quarterHour);
  if (known && known.zone === zone && known.quarter === quarter) return known.day;
  const here = DateTime.fromMillis(milliseconds);
  const there = zone ? here.setZone(zone) : here;
  const { year, month, day } = there.isValid ? there : here;
  known = { zone, quarter, day: toDay(year, month, day) };
  return known.day;
}
