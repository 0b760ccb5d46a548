import { describe, expect, test } from 'vitest';
import { openDocument } from '#grammar/document.ts';
import { placeLinesOf } from '#server/engine/checks/place-lines.ts';
import { Log } from '#server/engine/log.ts';
import { dayOf, logOf } from '../support/log.ts';

/** A batch of `grafts` in `lines` lines: half of them graft, half of them work on parts of it. */
function season(grafts: number, lines: number): string {
  const each = grafts / (lines / 2);
  const set = (i: number) => `K26.${i * each + 1}..${(i + 1) * each}`;
  const parts = Array.from({ length: lines / 2 }, (_, i) => i);
  return [
    'batch K26 Pinus mugo',
    ...parts.map((i) => `2026-10-09 graft ${set(i)}`),
    ...parts.map((i) => `2027-03-${10 + (i % 20)} swell ${set(i)}`),
  ].join('\n');
}

describe('cost follows the lines written, not the grafts made', () => {
  test('999,000 grafts in 2,000 lines make as many cohorts and intervals as 10,000 in 2,000 lines', () => {
    const [small, large] = [10_000, 999_000].map((grafts) => logOf(season(grafts, 2000)).history('k26'));
    expect(large?.cohorts.length).toBe(1000);
    expect(small?.cohorts.length).toBe(1000);
    const pieces = (cohorts: typeof small) => cohorts?.cohorts.reduce((sum, { numbers }) => sum + numbers.length, 0);
    expect(pieces(large)).toBe(pieces(small));
    expect(pieces(large)).toBe(2000);
  });

  test('a place’s lines up to today are sorted out once, though later ones lie ahead', () => {
    const { log } = logOf('place frame\n2026-11-21 reading frame min 1.5C\n2026-12-01 reading frame min 0.5C');
    const places = placeLinesOf(log, dayOf('2026-11-25'));
    expect(places.readings('frame').map(({ min }) => min)).toEqual([1.5]);
    expect(places.readings('frame')).toBe(places.readings('frame'));
  });

  test('an edit in one batch leaves the histories of all others as they are', () => {
    const batches = Array.from(
      { length: 300 },
      (_, i) => `batch K${i} Pinus mugo in frame\n2026-10-09 graft K${i}.1..9\n2027-03-20 swell K${i}\n`,
    );
    const view = logOf(`place frame\n${batches.join('')}`);
    const before = new Map([...view.batches()].map((batch) => [batch, view.history(batch)]));
    const line =
      view.log.document('log.graft')?.entries.findIndex(({ line: { text } }) => text === '2027-03-20 swell K77') ?? 0;
    const dirty = view.apply(
      view.log.applyEdit('log.graft', { start: { line, character: 20 }, end: { line, character: 20 } }, '.1..4'),
    );
    expect([...dirty]).toEqual(['k77']);
    expect([...before].filter(([batch, history]) => view.history(batch) !== history).map(([batch]) => batch)).toEqual([
      'k77',
    ]);
  });

  test('a reading where wood was kept reaches what was grafted with it', () => {
    const view = logOf(
      'place fridge\nplace frame\n2026-09-28 collect L7 Pinus mugo in fridge\nbatch A Pinus mugo lot L7 in frame\nbatch B Pinus mugo in frame\n2026-10-09 graft A.1\n2026-10-09 graft B.1\n',
    );
    for (const batch of view.batches()) view.history(batch);
    const end = { line: 99, character: 0 };
    expect([
      ...view.apply(view.log.applyEdit('log.graft', { start: end, end }, '2026-10-01 reading fridge min 9C\n')),
    ]).toEqual(['a']);
  });

  test('a reading at a place reaches what stood there that day, and nothing else', () => {
    const view = logOf(
      'place frame\nplace yard\nbatch A Pinus mugo in frame\nbatch B Pinus mugo in frame\nbatch C Pinus mugo in yard\n2026-10-09 graft A.1\n2026-10-09 graft B.1\n2026-10-09 graft C.1\n2027-03-01 move B to yard\n',
    );
    const end = { line: 99, character: 0 };
    const reach = (text: string) => {
      for (const batch of view.batches()) view.history(batch);
      return [...view.apply(view.log.applyEdit('log.graft', { start: end, end }, text))].sort();
    };
    expect(reach('2026-12-01 reading frame min 1C\n')).toEqual(['a', 'b']);
    expect(reach('2027-04-01 reading frame min 1C\n')).toEqual(['a']);
    expect(reach('2027-04-01 reading yard min 1C\n')).toEqual(['b', 'c']);
    // what is put on lasts, so it reaches what came later
    expect(reach('2026-12-01 cover yard shade\n')).toEqual(['b', 'c']);
  });
});

describe('a file is taken in piece by piece', () => {
  const text = `batch K26 Pinus mugo\n${Array.from({ length: 3000 }, (_, i) => `2026-10-09 graft K26.${i + 1}`).join('\n')}\n`;

  test('and may be edited meanwhile', () => {
    const log = new Log();
    const adding = log.addingDocument(openDocument('a.graft', text));
    adding.next();
    log.applyEdit('a.graft', { start: { line: 1, character: 0 }, end: { line: 2, character: 0 } }, '');
    adding.next();
    log.applyEdit('a.graft', { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }, 'place frame\n');
    for (let step = adding.next(); !step.done; step = adding.next()) expect(step.value).toBeUndefined();
    expect([
      log.names.mentions('k26').length,
      log.names.workOn('k26')?.all.length,
      log.names.declared('frame')?.kind,
    ]).toEqual([3000, 2999, 'place']);
    expect(new Set(log.names.mentions('k26')).size).toBe(3000);
  });

  test('or removed', () => {
    const log = new Log();
    const adding = log.addingDocument(openDocument('a.graft', text));
    adding.next();
    log.removeFile('a.graft');
    for (let step = adding.next(); !step.done; step = adding.next()) expect(step.value).toBeUndefined();
    expect([log.names.mentions('k26').length, [...log.names.batches()], log.fileNames]).toEqual([0, [], []]);
  });
});
