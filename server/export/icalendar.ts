import { ICalCalendar, ICalEventTransparency } from 'ical-generator';
import type { Intervals } from '#grammar/statement.ts';
import { contains, union } from '#grammar/values/intervals.ts';
import type { Answers } from '#server/engine/answers.ts';
import type { WorkItem } from '#server/engine/model.ts';
import { countText, toText, workTitle } from '#server/engine/say.ts';
import { inert } from '#server/report/text-page.ts';

/**
 * The work list as an iCalendar (RFC 5545): a window is an event of whole days, and keeps nobody busy. An event's UID
 * outlives lost grafts and a step done, so that the file of another day, taken in by the same calendar, moves what it
 * knows and adds the rest.
 *
 * @param work windows of `answers`, in the order they shall stand in
 * @param stamp milliseconds: when it is made, by which a calendar tells the newer of two
 */
export function icalendar(answers: Answers, work: readonly WorkItem[], stamp: number): string {
  const site = answers.log.site?.line.statement?.sets[0]?.name.text;
  const calendar = new ICalCalendar({
    prodId: { company: 'graft-log', product: 'graftlog', language: 'EN' },
    // the library writes this one as it is given
    name: textValue(site ? `Grafts at ${site}` : 'Grafts'),
  });
  const taken = new Set<string>();
  for (const item of work) {
    const what = item.to ? `${workTitle(item)} ${toText(item.to)}` : workTitle(item);
    const event = calendar.createEvent({
      id: once(uidOf(item, answers, site), taken),
      stamp: new Date(stamp),
      allDay: true,
      start: midnight(item.from),
      // the day after the last one
      end: midnight(item.by + 1),
      summary: inert(`${item.batch.name}: ${what}`),
      description: inert(
        [`${item.grafts} (${countText(item.count, 'graft')})${item.hand ? `, by ${item.hand}` : ''}`, item.why].join(
          '\n',
        ),
      ),
    });
    if (item.place) event.location(inert(item.place));
    event.transparency(ICalEventTransparency.TRANSPARENT);
  }
  return `${calendar.toString()}\r\n`;
}

/** A day as the moment the library takes its date from, whatever the machine's zone. */
const midnight = (day: number) => new Date(day * 86_400_000);

/** TEXT of RFC 5545, 3.3.11, on one line. */
const textValue = (text: string) =>
  inert(text)
    .replace(/[\\;,]/g, '\\$&')
    .replace(/\s+/g, ' ');

/**
 * Work, batch and the first of its grafts, those lost or sold before it counted in: what of a piece of work stays the
 * same when a graft is lost, its window moves or its text is other. The site keeps two nurseries' K26 apart.
 */
function uidOf({ what, batch, numbers }: WorkItem, answers: Answers, site: string | undefined): string {
  const gone = answers
    .of(batch.key)
    .history.cohorts.filter((cohort) => cohort.fail || cohort.sold !== undefined)
    .reduce<Intervals>((all, cohort) => union(all, cohort.numbers), []);
  let first = numbers[0] ?? 0;
  while (contains(gone, first - 1)) first--;
  return `${what}.${idText(batch.key)}.${first}@${site ? `${idText(site.toLowerCase())}.` : ''}graftlog`;
}

/** Letters, digits and hyphens of ASCII stay, all else is written out; a very long name is told by its start and its sum. */
function idText(name: string): string {
  const plain = name.replace(/[^a-z0-9-]/gu, (sign) => `_${(sign.codePointAt(0) ?? 0).toString(16)}_`);
  return plain.length <= 80 ? plain : `${plain.slice(0, 70)}_${sumOf(plain)}`;
}

/** FNV-1a, 32 bit (Fowler, Noll, Vo). */
function sumOf(text: string): string {
  let sum = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) sum = Math.imul(sum ^ text.charCodeAt(i), 0x01000193) >>> 0;
  return sum.toString(16);
}

/** Two events never share a UID, as a calendar would keep one of them. */
function once(uid: string, taken: Set<string>): string {
  let own = uid;
  for (let i = 2; taken.has(own); i++) own = uid.replace('@', `.${i}@`);
  taken.add(own);
  return own;
}
