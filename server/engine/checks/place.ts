import type { Day } from '#grammar/statement.ts';
import { intersect, size } from '#grammar/values/intervals.ts';
import { factOf } from '../facts.ts';
import { graftsText } from '../grafts-text.ts';
import type { Cohort, Declared, Entry, Finding, Tally } from '../model.ts';
import { byCodePoint, byHistory } from '../order.ts';
import { subjectOf } from '../subject.ts';
import { byLog, type CheckEnv, daySpan, factSpan } from './case.ts';
import { acceptMends } from './mends.ts';
import { lastTill, staysTill } from './place-lines.ts';

/** So many more, or fewer, live grafts at a place from a line on; without a line, from a day on. */
interface Change {
  readonly day: Day;
  readonly entry?: Entry;
  readonly by: number;
  readonly cohort: Cohort;
}

/** What came to a place and left it, in order, and what is still to be sorted in and sifted out. */
interface Traffic {
  changes: Change[];
  coming: Change[];
  readonly gone: Set<string>;
  found?: readonly Finding[];
}

/** More live grafts than a place holds, on the line that passes the limit; once, until there is room again. */
export const placeFull = byLog((env) => {
  const rooms = roomsOf(env);
  const traffic = new Map<string, Traffic>([...rooms.keys()].map((place) => [place, quiet()]));
  return {
    put(history, now) {
      for (const cohort of history.cohorts) {
        if (!cohort.stays.some(({ place }) => place !== undefined && rooms.has(place))) continue;
        for (const [place, change] of changesOf(cohort, history.tallies, now)) {
          const there = traffic.get(place);
          if (!there) continue;
          settle(there);
          there.coming.push(change);
          delete there.found;
        }
      }
    },
    drop(batch) {
      for (const there of traffic.values()) there.gone.add(batch);
    },
    findings(now) {
      return [...rooms].flatMap(([place, room]) => {
        const there = traffic.get(place) ?? quiet();
        settle(there);
        if (there.coming.length > 0) there.changes = laidIn(there.changes, there.coming.sort(inOrder));
        there.coming = [];
        there.found ??= overfull(room, there.changes, now);
        return there.found;
      });
    },
  };
});

const quiet = (): Traffic => ({ changes: [], coming: [], gone: new Set() });

/** Takes out the batches that are gone; before others come, as they may come again. */
function settle(there: Traffic): void {
  if (there.gone.size === 0) return;
  const stays = ({ cohort }: Change) => !there.gone.has(cohort.batch.key);
  const kept = there.changes.filter(stays);
  if (kept.length < there.changes.length) delete there.found;
  there.changes = kept;
  there.coming = there.coming.filter(stays);
  there.gone.clear();
}

/** Few come to many that are in order already. */
function laidIn(changes: readonly Change[], coming: readonly Change[]): Change[] {
  const all: Change[] = [];
  let next = 0;
  for (const change of changes) {
    while (next < coming.length && inOrder(coming[next] as Change, change) < 0) all.push(coming[next++] as Change);
    all.push(change);
  }
  while (next < coming.length) all.push(coming[next++] as Change);
  return all;
}

interface Room {
  readonly declared: Declared;
  readonly capacity: number;
}

function roomsOf({ log }: CheckEnv): Map<string, Room> {
  const rooms = new Map<string, Room>();
  for (const declared of log.names.allDeclared('place')) {
    const fact = factOf(declared.entry.line.statement, 'capacity');
    if (!fact || fact.lost || fact.value.kind !== 'amount' || fact.value.high === undefined) continue;
    rooms.set(declared.key, { declared, capacity: fact.value.high });
  }
  return rooms;
}

function inOrder(a: Change, b: Change): number {
  if (a.day !== b.day) return a.day - b.day;
  if (!a.entry || !b.entry) return a.entry ? 1 : b.entry ? -1 : 0;
  return byHistory(a.entry, b.entry) || byCodePoint(a.cohort.batch.key, b.cohort.batch.key);
}

function overfull({ declared, capacity }: Room, changes: readonly Change[], env: CheckEnv): Finding[] {
  const found: Finding[] = [];
  let count = 0;
  let told = false;
  for (let i = 0; i < changes.length; ) {
    const { entry, day } = changes[i] as Change;
    const cohorts: Cohort[] = [];
    do {
      const { by, cohort } = changes[i] as Change;
      count += by;
      if (by > 0) cohorts.push(cohort);
      i++;
    } while (entry && i < changes.length && changes[i]?.entry === entry);
    if (count < capacity) told = false;
    const [first] = cohorts;
    if (count <= capacity || told || !entry || !first) continue;
    told = true;
    const { batch } = first;
    const numbers = cohorts.filter((cohort) => cohort.batch === batch).flatMap((cohort) => cohort.numbers);
    const about = { entry, day, batch: batch.key, place: declared.key };
    if (env.accepts.covers('place-full', about)) continue;
    const room = factSpan(declared.entry, 'capacity') ?? daySpan(declared.entry);
    found.push({
      code: 'place-full',
      severity: 'information',
      entry,
      span: factSpan(entry, 'in') ?? factSpan(entry, 'to') ?? entry.line.statement?.sets[0]?.span ?? daySpan(entry),
      message: `${count} in \`${declared.name}\`, room for ${capacity}.`,
      grafts: graftsText(batch, numbers),
      related: [{ entry: declared.entry, span: room, message: 'Its room.' }],
      get mends() {
        return acceptMends('place-full', entry, batch, env.log);
      },
    });
  }
  return found;
}

/** When grafts came to places and left them: moved, lost, sold, or so long without a line that nobody knows (practice `stands ... after word`). */
function changesOf(cohort: Cohort, tallies: readonly Tally[], env: CheckEnv): [string, Change][] {
  const subject = subjectOf(cohort, cohort.madeDay, env.log, env.lots);
  const keeps = env.practice.stands('word', subject)?.high;
  const found: [string, Change][] = [];
  const lost = countedOut(cohort, tallies);
  for (const { stay, to, next } of staysTill(cohort, env.day)) {
    const { place } = stay;
    if (place === undefined || stay.unknown) continue;
    let live =
      size(cohort.numbers) - lost.filter(({ day }) => day < stay.day).reduce((sum, { count }) => sum + count, 0);
    const words = [cohort.named.map(({ day }) => day), env.places.days(place)];
    let from: Day = stay.day;
    let entry: Entry | undefined = stay.entry;
    for (;;) {
      const end = keeps === undefined ? undefined : lastHeard(from, words, keeps);
      const until = end === undefined ? to : Math.min(to, end);
      found.push([place, { day: from, ...(entry ? { entry } : {}), by: live, cohort }]);
      for (const { day, count, entry: line } of lost) {
        if (day < from || day > until || (day === stay.day && byHistory(line, stay.entry) < 0)) continue;
        found.push([place, { day, entry: line, by: -count, cohort }]);
        live -= count;
      }
      if (end === undefined || end >= to) {
        const gone = next?.entry ?? cohort.fail?.entry ?? cohort.named.find(({ verb }) => verb === 'sell')?.entry;
        const left = next !== undefined || cohort.fail !== undefined || cohort.sold !== undefined;
        if (left) found.push([place, { day: to, ...(gone ? { entry: gone } : {}), by: -live, cohort }]);
        break;
      }
      found.push([place, { day: end + 1, by: -live, cohort }]);
      const again = nextAfter(end, words);
      if (again === undefined || again > to) break;
      [from, entry] = [again, undefined];
    }
  }
  return found;
}

/** Losses and sales that were counted, as many as fall on this cohort. */
function countedOut(cohort: Cohort, tallies: readonly Tally[]): { day: Day; entry: Entry; count: number }[] {
  let left = size(cohort.numbers);
  return tallies.flatMap(({ verb, over, count, day, entry }) => {
    const inside = size(intersect(over, cohort.numbers));
    if (verb === 'take' || inside === 0) return [];
    const share = Math.min(left, Math.round((count * inside) / size(over)));
    left -= share;
    return share > 0 ? [{ day, entry, count: share }] : [];
  });
}

/** The last day on which grafts still count: words about them or their place follow each other closely enough. */
function lastHeard(from: Day, words: readonly (readonly Day[])[], keeps: number): Day {
  for (let heard = from; ; ) {
    const next = Math.max(...words.map((days) => lastTill(days, heard + keeps) ?? heard));
    if (next <= heard) return heard + keeps;
    heard = next;
  }
}

function nextAfter(day: Day, words: readonly (readonly Day[])[]): Day | undefined {
  const next = words.flatMap((days) => days.find((other) => other > day) ?? []);
  return next.length > 0 ? Math.min(...next) : undefined;
}
