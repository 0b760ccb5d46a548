import { describe, expect, test } from 'vitest';
import { coverOn, latitudeOf, placeCover, readFrost } from '#server/engine/cover.ts';
import { dayOf, logOf } from '../support/log.ts';

const places = 'place frame  frost-free shade\nplace tent  heated mist\nplace yard\nbatch K26  Pinus mugo\n';
const cover = (lines: string, on: string, batch = 'k26') => {
  const view = logOf(places + lines);
  const [first] = view.history(batch).cohorts;
  if (!first) throw new Error('nothing was made');
  return [...coverOn(first, dayOf(on), view.log).flags].sort().join(' ');
};

describe('cover on a day is the place’s and its own, as covered and uncovered so far', () => {
  test('`heated` implies frost-free, `mist` implies humid', () => {
    expect(cover('2026-10-09 graft K26.1 in tent\n', '2026-10-09')).toBe('frost-free heated humid mist');
  });

  test('a move changes the place’s cover; what the grafts have on themselves stays theirs', () => {
    const lines = '2026-10-09 graft K26.1 in frame humid\n2027-03-20 move K26 to yard\n';
    expect(cover(lines, '2027-03-19')).toBe('frost-free humid shade');
    expect(cover(lines, '2027-03-20')).toBe('humid');
  });

  test('fleece put on and taken off, on the grafts or on the place', () => {
    const lines =
      '2026-10-09 graft K26.1 in yard\n2026-11-01 cover K26 frost-free\n2026-11-05 cover yard shade wind-break\n2027-03-01 uncover yard shade\n2027-04-01 uncover K26\n';
    const on = (day: string) => cover(lines, day);
    expect(['2026-10-31', '2026-11-01', '2026-11-05', '2027-03-01', '2027-04-01'].map(on)).toEqual([
      '',
      'frost-free',
      'frost-free shade wind-break',
      'frost-free wind-break',
      'wind-break',
    ]);
  });

  test('on a tree the tree’s place counts, and what is put on the tree', () => {
    const lines =
      'tree T3 Pinus mugo in yard\n2026-10-09 graft K26.1 onto T3\n2026-11-01 cover T3 frost-free\n2026-12-01 move T3 to frame\n';
    expect([cover(lines, '2026-10-09'), cover(lines, '2026-11-01'), cover(lines, '2026-12-01')]).toEqual([
      '',
      'frost-free',
      'frost-free shade',
    ]);
  });

  test('cover of a day counts for the whole of it', () => {
    expect(cover('2026-10-09\ngraft K26.1 in yard\ncover K26 frost-free\nuncover K26 frost-free\n', '2026-10-09')).toBe(
      'frost-free',
    );
    expect(cover('2026-10-09\ncover K26 frost-free\ngraft K26.1 in yard\n', '2026-10-09')).toBe('frost-free');
  });

  test('`uncover` of a place takes off what is named, or all four, declared, too; `heated` and `mist` stay', () => {
    const { log } = logOf(
      `${places}2027-03-01 uncover frame shade\n2027-04-01 uncover frame\n2027-04-01 uncover tent\n`,
    );
    const on = (place: string, day: string) => [...placeCover(place, dayOf(day), log)].sort().join(' ');
    expect([on('frame', '2027-02-28'), on('frame', '2027-03-01'), on('frame', '2027-04-01')]).toEqual([
      'frost-free shade',
      'frost-free',
      '',
    ]);
    expect(on('tent', '2027-04-01')).toBe('frost-free heated humid mist');
  });

  test('a reading below 0 °C overrules the claim of that night only', () => {
    const view = logOf(
      `${places}2026-10-09 graft K26.1 in frame\n2027-01-12 reading frame min -3.2C\n2027-01-13 reading frame min 0C\n`,
    );
    const [first] = view.history('k26').cohorts;
    const frost = (day: string) => first && coverOn(first, dayOf(day), view.log).frost?.line.text;
    expect([frost('2027-01-11'), frost('2027-01-12'), frost('2027-01-13')]).toEqual([
      undefined,
      '2027-01-12 reading frame min -3.2C',
      undefined,
    ]);
    expect(readFrost('yard', dayOf('2027-01-12'), view.log)).toBeUndefined();
  });

  test('a place’s own latitude overrules the site’s', () => {
    const { log } = logOf('site Drumlin-Lane lat 47.9\nplace far lat -36.8\nplace frame\n');
    expect([latitudeOf('far', log), latitudeOf('frame', log), latitudeOf(undefined, log)]).toEqual([-36.8, 47.9, 47.9]);
    expect(latitudeOf('frame', logOf('place frame\n').log)).toBeUndefined();
  });
});
