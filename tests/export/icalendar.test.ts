import ICAL from 'ical.js';
import { describe, expect, test } from 'vitest';
import { isoDay } from '#grammar/values/date.ts';
import { Answers } from '#server/engine/answers.ts';
import type { WorkItem } from '#server/engine/model.ts';
import { icalendar } from '#server/export/icalendar.ts';
import { dayOf, logOf } from '../support/log.ts';

const log = `site   Drumlin-Lane  lat 47.90  lon 8.10
place  frame  frost-free shade wind-break
batch  K26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame
batch  M26  Pinus mugo / Pinus sylvestris  side-veneer  film 38mm  in frame
2026-10-09
graft  K26.1..12  cut 40%  whorls 2  by mk
graft  M26 x40  cut 40%  whorls 2
2027-03-20
swell  K26
2027-03-24
open   K26  10%
`;
const stamp = Date.UTC(2027, 3, 6, 5, 4, 3);
const answersOf = (text: string, on: string) => new Answers(logOf(text, on).log, dayOf(on));
const calendar = (text = log, on = '2027-04-06', at = stamp) => {
  const answers = answersOf(text, on);
  return icalendar(answers, answers.work(), at);
};

/** One window of the log, its words put in. */
function calendarOf(words: Partial<WorkItem>) {
  const answers = answersOf(log, '2027-04-06');
  const item = answers.work().find(({ what, batch }) => what === 'open' && batch.key === 'k26') as WorkItem;
  return icalendar(answers, [{ ...item, ...words }], stamp);
}

/** What another library makes of it. */
function read(text: string) {
  const component = new ICAL.Component(ICAL.parse(text));
  return component.getAllSubcomponents('vevent').map((event) => {
    const value = (name: string) => event.getFirstPropertyValue(name)?.toString() ?? '';
    const dates = ['dtstart', 'dtend'].map((name) => event.getFirstProperty(name)?.type);
    return {
      ...{ uid: value('uid'), start: value('dtstart'), end: value('dtend'), stamp: value('dtstamp'), dates },
      ...{ summary: value('summary'), description: value('description'), location: value('location') },
      properties: event.getAllProperties().map(({ name }) => name),
    };
  });
}

test('read back by another library: each window as whole days, the last one inside', () => {
  const answers = answersOf(log, '2027-04-06');
  const work = answers.work();
  const events = read(icalendar(answers, work, stamp));
  expect(work.length).toBeGreaterThan(2);
  expect(events.map(({ start, end, location }) => ({ start, end, location }))).toEqual(
    work.map(({ from, by, place }) => ({ start: isoDay(from), end: isoDay(by + 1), location: place })),
  );
  const open = events.find(({ uid }) => uid.startsWith('open.k26'));
  expect(open).toMatchObject({
    uid: 'open.k26.1@drumlin-lane.graftlog',
    summary: 'K26: open a step to 15–20\u00A0%',
    start: '2027-04-03',
    end: '2027-04-08',
    description: expect.stringMatching(/^K26\.1\.\.12 \(12 grafts\), by mk\n./),
  });
});

describe('the rules of RFC 5545', () => {
  const text = calendar(`${log}check  K26  "${'Änderung; 芽, 🌲 '.repeat(20)}"\nmove K26 to frame\n`);
  const lines = text.split('\r\n');

  test('3.1: lines end in CR LF, the last one, too, and no other CR or LF stands anywhere', () => {
    expect(text.endsWith('END:VCALENDAR\r\n')).toBe(true);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
  });

  test('3.1: no line has more than 75 octets, and none is cut inside of a character', () => {
    const folded = calendar(log.replaceAll('frame', `frame${'芽é'.repeat(40)}`));
    const lengths = folded.split('\r\n').map((line) => Buffer.byteLength(line));
    expect(Math.max(...lengths)).toBeLessThanOrEqual(75);
    expect(folded.split('\r\n').some((line) => line.startsWith(' '))).toBe(true);
    // each line is whole characters by itself
    for (const line of folded.split('\r\n')) expect(Buffer.from(line).toString()).toBe(line);
    expect(folded).not.toContain('\uFFFD');
    expect(read(folded)[0]?.location).toBe(`frame${'芽é'.repeat(40)}`);
  });

  test('3.4, 3.6: one calendar, VERSION 2.0 and PRODID once and before the events, each component closed', () => {
    expect(lines[0]).toBe('BEGIN:VCALENDAR');
    expect(lines.filter((line) => line === 'VERSION:2.0')).toHaveLength(1);
    expect(lines.filter((line) => line.startsWith('PRODID:'))).toEqual(['PRODID:-//graft-log//graftlog//EN']);
    expect(lines.findIndex((line) => line.startsWith('PRODID:'))).toBeLessThan(lines.indexOf('BEGIN:VEVENT'));
    const begun = lines.filter((line) => line === 'BEGIN:VEVENT').length;
    expect(begun).toBe(lines.filter((line) => line === 'END:VEVENT').length);
  });

  test('3.6.1: UID, DTSTAMP and DTSTART once in each event; nothing else that may stand but once stands twice', () => {
    for (const { properties } of read(text)) {
      expect(properties).toEqual([...new Set(properties)]);
      expect(properties).toEqual(expect.arrayContaining(['uid', 'dtstamp', 'dtstart', 'dtend', 'summary', 'transp']));
    }
  });

  test('3.3.4, 3.8.2.2: days without a time, VALUE=DATE said of both ends, the end the day after and later than the start', () => {
    for (const { dates, start, end } of read(text)) {
      expect(dates).toEqual(['date', 'date']);
      expect(start < end).toBe(true);
    }
    const zone = process.env.TZ;
    for (const other of ['America/Los_Angeles', 'Pacific/Kiritimati']) {
      process.env.TZ = other;
      expect(calendar()).toContain('DTSTART;VALUE=DATE:20270403\r\nDTEND;VALUE=DATE:20270408\r\n');
    }
    if (zone === undefined) delete process.env.TZ;
    else process.env.TZ = zone;
    expect(text).toContain('DTSTART;VALUE=DATE:20270403\r\nDTEND;VALUE=DATE:20270408\r\n');
  });

  test('3.3.11: backslash, semicolon, comma and line break are escaped in text, a colon is not', () => {
    const said = calendarOf({ why: 'one; two, three \\ four: five\nsix', place: 'a;b,c' });
    expect(said).toContain(' (12 grafts)\\, by mk\\none\\; two\\, three \\\\ four: five');
    expect(said).toContain('LOCATION:a\\;b\\,c\r\n');
    expect(read(said)[0]).toMatchObject({
      description: 'K26.1..12 (12 grafts), by mk\none; two, three \\ four: five\nsix',
      location: 'a;b,c',
    });
  });

  test('3.8.2.7: a window keeps nobody busy', () => {
    expect(lines.filter((line) => line === 'TRANSP:TRANSPARENT').length).toBe(read(text).length);
  });

  test('3.8.7.2: DTSTAMP in UTC', () => {
    expect(text).toContain('DTSTAMP:20270406T050403Z\r\n');
  });

  test('3.8.4.7: a UID is one event’s, short, and of plain signs, however long the batch’s name', () => {
    const long = calendar(log.replaceAll('K26', `K${'ü'.repeat(300)}`));
    const uids = read(long).map(({ uid }) => uid);
    expect(uids.length).toBeGreaterThan(2);
    expect(new Set(uids).size).toBe(uids.length);
    for (const uid of uids) expect(uid).toMatch(/^[!-~]{1,255}$/);
  });
});

describe('a second import updates', () => {
  const open = (text: string, on: string, at = stamp) =>
    read(calendar(text, on, at)).filter(({ uid }) => uid.startsWith('open.k26'));

  test('a step done moves the same event to the next window, with a later stamp', () => {
    const [before] = open(log, '2027-04-06');
    const [after] = open(`${log}2027-04-06\nopen K26 20%\n`, '2027-04-07', stamp + 86_400_000);
    expect(after?.uid).toBe(before?.uid);
    expect(after && before && after.start > before.end).toBe(true);
    expect(after && before && after.stamp > before.stamp).toBe(true);
  });

  test('lost grafts, the first of them too, change no UID; one more window is one more event', () => {
    const uid = open(log, '2027-04-06')[0]?.uid;
    expect(open(`${log}2027-04-05\nfail K26.1,2,7 dried\n`, '2027-04-06').map((event) => event.uid)).toEqual([uid]);
    expect(
      open(`${log}2027-04-05\nopen K26.7..12 20%\n`, '2027-04-06')
        .map((event) => event.uid)
        .sort(),
    ).toEqual([uid, 'open.k26.7@drumlin-lane.graftlog']);
  });

  test('the same day’s file is the same but for its stamp', () => {
    expect(calendar(log, '2027-04-06', stamp + 5000).replace(/^DTSTAMP.*/gm, '')).toBe(
      calendar().replace(/^DTSTAMP.*/gm, ''),
    );
  });
});

test('text that is up to something stays text: no property, no event, no line of its own', () => {
  const place = 'frame\r\nEND:VEVENT\nATTACH:file:///etc/passwd\u202e\u0000<script>=cmd';
  const text = calendarOf({ place, why: `${'x'.repeat(300)}\rBEGIN:VALARM`, grafts: 'K26\u2028END:VCALENDAR' });
  expect(text).not.toMatch(/[\u0000-\u0009\u000b\u000c\u000e-\u001f\u2028\u2029\u202a-\u202e]/);
  expect(text.match(/^(END:VEVENT|END:VCALENDAR)\r$/gm)).toEqual(['END:VEVENT\r', 'END:VCALENDAR\r']);
  expect(text).not.toMatch(/^(ATTACH|BEGIN:VALARM)/m);
  expect(read(text)).toHaveLength(1);
});
