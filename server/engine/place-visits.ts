import type { Day, Statement } from '#grammar/statement.ts';
import { wholeDay } from './book.ts';
import type { Growing, PlaceVisits } from './cohort.ts';
import type { Log } from './log.ts';
import { actedOn } from './mentions.ts';
import type { Entry, Stay, Visit } from './model.ts';
import { byHistory } from './order.ts';

/**
 * Lays the lines on a place into the visits of what stood there. Cohorts of a batch that stood there the same time
 * share them, so a place that is read every day costs its readings once a batch.
 */
export function placeVisitsOf(log: Log, day: Day): PlaceVisits {
  const known = new Map<Entry, Map<Entry | undefined, readonly Visit[]>>();
  return (cohort) => {
    const placed: Visit[] = [];
    cohort.stays.forEach((stay, i) => {
      const end = cohort.stays[i + 1]?.entry ?? cohort.fail?.entry ?? cohort.soldBy;
      let ends = known.get(stay.entry);
      if (!ends) {
        ends = new Map();
        known.set(stay.entry, ends);
      }
      let visits = ends.get(end);
      if (!visits) {
        visits = visitsDuring(stay, end, log, day);
        ends.set(end, visits);
      }
      for (const visit of visits) placed.push(visit);
    });
    return placed.length === 0 ? cohort.named : laidIn(cohort, placed);
  };
}

/** Lines on the place from the stay's line to the next one's; what counts for a whole day reaches either end of it. */
function visitsDuring(stay: Stay, end: Entry | undefined, log: Log, today: Day): Visit[] {
  const list = stay.place === undefined ? undefined : log.names.workOn(stay.place);
  if (!list) return [];
  const visits: Visit[] = [];
  const first: Entry = { ...stay.entry, day: stay.day, minute: 0, file: '', rank: 0 };
  for (let i = list.from(first); i < list.all.length; i++) {
    const entry = list.all[i] as Entry;
    const statement = entry.line.statement as Statement;
    if (entry.day === undefined || entry.day > today || (end?.day !== undefined && entry.day > end.day)) break;
    if (statement.idle || !actedOn(statement.verb).includes('place')) continue;
    const whole = wholeDay.has(statement.verb);
    if (entry.day === stay.day && !whole && byHistory(entry, stay.entry) < 0) continue;
    if (end && entry.day === end.day && !whole && byHistory(entry, end) > 0) continue;
    visits.push({ entry, statement, verb: statement.verb, day: entry.day, via: 'place' });
  }
  return visits;
}

function laidIn(cohort: Growing, placed: readonly Visit[]): readonly Visit[] {
  const seen = new Set(cohort.named.map((visit) => visit.entry));
  const visits: Visit[] = [];
  let next = 0;
  const [made, ...own] = cohort.named;
  if (made) visits.push(made);
  for (const visit of own) {
    for (; next < placed.length && byHistory((placed[next] as Visit).entry, visit.entry) < 0; next++)
      add(placed[next] as Visit);
    visits.push(visit);
  }
  for (; next < placed.length; next++) add(placed[next] as Visit);
  return visits;

  function add(visit: Visit): void {
    // a line that names both the set and its place met it once; one that reached it by two stays, too
    if (seen.has(visit.entry)) return;
    seen.add(visit.entry);
    visits.push(visit);
  }
}
