import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readLine } from '#grammar/line.ts';
import { ownWords, replaced } from '#grammar/own-words.ts';
import type { LogView } from '#server/engine/engine.ts';
import type { LogEdit } from '#server/engine/model.ts';
import { shareFacts } from '#server/engine/refactor/share-facts.ts';
import { piecesAt, splitSet, splittable } from '#server/engine/refactor/split-set.ts';
import { writeDate } from '#server/engine/refactor/write-dates.ts';
import { lived } from '../support/lived.ts';
import { logOf } from '../support/log.ts';
import { workLog } from '../support/logs.ts';

const file = 'log.graft';
const entriesOf = (view: LogView) => view.log.document(file)?.entries ?? [];

/** A log with edits made, later places first. */
function edited(view: LogView, edits: readonly LogEdit[]): string {
  const texts = entriesOf(view).map((entry) => ({ entry, text: entry.line.text, below: [] as string[] }));
  for (const line of texts) {
    const own = edits.filter(({ entry }) => entry === line.entry);
    const within = own.flatMap(({ where, span, text }) => (where === 'in' && span ? [{ span, text }] : []));
    line.text = replaced(line.text, within);
    line.below = own.filter(({ where }) => where === 'below').map(({ text }) => text);
  }
  return texts.flatMap(({ text, below }) => [text, ...below]).join('\n');
}

describe('grafts split off a set', () => {
  /** Every line that comes of splitting `numbers` off the last line's set. */
  function split(line: string, ...numbers: number[]): string[] | undefined {
    const view = logOf(`batch K26 Pinus mugo\n2026-10-09 graft K26.1..12\n${line}`);
    const entry = entriesOf(view).at(-1);
    const [set] = entry ? splittable(entry, view.log) : [];
    const edits = entry && set && splitSet(entry, set, numbers);
    return edits && edited(view, edits).split('\n').slice(2);
  }

  test('get a line with all that was said of them; the remark stays where it was', () => {
    expect(split('2027-03-24 14:30  open  K26.1..12  20%  by mk  "warm"  # tray one', 12, 12)).toEqual([
      '2027-03-24 14:30  open  K26.1..11  20%  by mk  "warm"  # tray one',
      '2027-03-24 14:30  open  K26.12  20%  by mk  "warm"',
    ]);
    expect(split('2027-03-24  take  B26  K26.1..3,9  S27', 9, 9)).toEqual([
      '2027-03-24  take  B26  K26.1..3  S27',
      '2027-03-24  take  K26.9',
    ]);
  });

  test('of what speaks of the whole set nothing is split off, nor all of it, nor what is no part', () => {
    expect(split('2027-03-24  fail  K26.1..12 x4', 12, 12)).toBe(undefined);
    expect(split('2027-03-24  open  K26.1..12 except K26.3  20%', 12, 12)).toBe(undefined);
    expect(split('2027-03-24  fail  K26.1..12 rest', 12, 12)).toBe(undefined);
    expect(split('2027-03-20  take  K26.1..12 x4\n2027-03-24  take  K26.1..12', 12, 12)).toBe(undefined);
    expect(split('2027-03-24  open  K26  20%', 12, 12)).toBe(undefined);
    expect(split('2027-03-24  open  K26.1..12  20%', 1, 12)).toBe(undefined);
    expect(split('2027-03-24  open  K26.1..12  20%', 12, 13)).toBe(undefined);
    expect(split('2027-03-24  open  K26.1..12  20', 12, 12)).toBe(undefined);
  });

  test('the stretch under the caret, and the end of a range', () => {
    const view = logOf('2027-03-24  open  K26.1..8,12,14  20%');
    const [entry] = entriesOf(view);
    const [set] = entry ? splittable(entry, view.log) : [];
    if (!entry || !set) throw new Error('no set');
    const at = (piece: string) => {
      const start = entry.line.text.indexOf(piece) + piece.length;
      return piecesAt(entry, set, { start, end: start });
    };
    expect(at('12')).toEqual([[12, 12]]);
    expect(at('1..8')).toEqual([
      [1, 8],
      [8, 8],
    ]);
    const from = entry.line.text.indexOf('8');
    expect(piecesAt(entry, set, { start: from, end: from + 4 })).toEqual([
      [1, 8],
      [12, 12],
    ]);
  });
});

describe('facts all lines of a batch share', () => {
  function share(log: string): string | undefined {
    const view = logOf(log);
    const found = shareFacts('k26', view.log);
    return found && edited(view, found.edits);
  }

  test('go up to the batch; what differs stays', () => {
    expect(
      share(`batch    K26  Pinus mugo  side-veneer  # white
2026-10-09
graft    K26.1..11  cut 40%  film 38mm  by mk  # one
2026-10-10  graft  K26.12  film 38mm  cut 30%  by mk`),
    ).toBe(`batch    K26  Pinus mugo  side-veneer  film 38mm  by mk  # white
2026-10-09
graft    K26.1..11  cut 40%  # one
2026-10-10  graft  K26.12  cut 30%`);
  });

  test('not what one line lacks, what the batch says otherwise, or what would change the plant', () => {
    const log = (batch: string, one: string, two: string) =>
      share(`batch K26 ${batch}\n2026-10-09\ngraft K26.1 ${one}\ngraft K26.2 ${two}`);
    expect(log('Pinus mugo', 'film 38mm', 'cut 40%')).toBe(undefined);
    expect(log('Pinus mugo film 50mm', 'film 38mm', 'film 38mm')).toBe(undefined);
    expect(log('Pinus mugo', 'onto T3', 'onto T3')).toBe(undefined);
    expect(log('Pinus mugo', 'film 38mm photo "a.jpg"', 'photo "a.jpg"')).toBe(undefined);
    expect(share('batch K26 Pinus mugo\n2026-10-09\ngraft K26.1 film 38mm')).toBe(undefined);
  });

  test('not where another batch is like it and would take them over', () => {
    const log = 'batch K26 Pinus mugo\nbatch B26 like K26\n2026-10-09\ngraft K26.1 FACT\ngraft K26.2 FACT';
    expect(share(log.replaceAll('FACT', 'film 38mm'))).toBe(undefined);
    expect(share(log.replaceAll('FACT', 'by mk'))).toContain('batch K26 Pinus mugo  by mk\n');
  });
});

test('a carried day is written on the line, with a carried time', () => {
  const view = logOf(
    'batch K26 Pinus mugo\n2026-10-09\n  graft K26.1\n14:30 graft K26.2\ngraft K26.3  # so\n2026-10-10 graft K26.4\npractice any cut 30%..\n',
  );
  expect(
    edited(
      view,
      entriesOf(view).flatMap((entry) => writeDate(entry) ?? []),
    ),
  ).toBe(
    'batch K26 Pinus mugo\n2026-10-09\n  2026-10-09  graft K26.1\n2026-10-09  14:30 graft K26.2\n2026-10-09  14:30  graft K26.3  # so\n2026-10-10 graft K26.4\npractice any cut 30%..\n',
  );
});

describe('the notation’s own words', () => {
  const own = (text: string) => replaced(text, ownWords(readLine(text)));

  test('for the other country’s, past forms, capitals and blanks', () => {
    expect(own('2027-03-24  Vented K26 20%')).toBe('2027-03-24  Vented K26 20%');
    expect(own('2027-03-24  Vent K26 20%  # vent')).toBe('2027-03-24  open K26 20%  # vent');
    expect(own('2026-10-09  grafted K26.1  rootstock 9mm, veneer, wrap: 38mm')).toBe(
      '2026-10-09  graft K26.1  stock 9mm, side-veneer, film: 38mm',
    );
    expect(own('check K26 tight mold "tight"')).toBe('check K26 biting mould "tight"');
    expect(own('place frame frost free windbreak')).toBe('place frame frost-free wind-break');
    expect(own('head back K26 1/3')).toBe('headback K26 1/3');
    expect(own('practice veneer off fall,winter')).toBe('practice side-veneer off autumn,winter');
  });

  test('a line with its own words, and one that can’t be read, stay', () => {
    expect(ownWords(readLine('open K26 20%'))).toEqual([]);
    expect(ownWords(readLine('vent K26 20'))).toEqual([]);
  });
});

/** Logs with words of other hands, and facts that several lines share. */
const anyLogHere = fc
  .tuple(
    workLog,
    fc.constantFrom(
      '',
      'film 38mm',
      'by mk',
      'under',
      'frost-free',
      'in yard',
      'side veneer',
      'cut 40%, whorls 2',
      'reset',
    ),
    fc.boolean(),
  )
  .map(([log, fact, foreign]) => {
    const shared = log.replace(/^(.*graft .*)$/gm, fact ? `$1  ${fact}` : '$1');
    if (!foreign) return shared;
    return shared
      .replaceAll(/\bopen\b/g, 'vent')
      .replaceAll(/\bfail\b/g, 'died')
      .replaceAll(/\bheadback\b/g, 'head back')
      .replaceAll(/\bmove\b/g, 'store')
      .replaceAll(/frost-free/g, 'frost free');
  });

/** Every way a log can be written otherwise, one after the other. */
function* otherways(view: LogView): Generator<{ readonly how: string; readonly edits: readonly LogEdit[] }> {
  const entries = entriesOf(view);
  yield { how: 'days', edits: entries.flatMap((entry) => writeDate(entry) ?? []) };
  yield {
    how: 'words',
    edits: entries.flatMap((entry) =>
      ownWords(entry.line).map(({ span, text }): LogEdit => ({ entry, where: 'in', span, text })),
    ),
  };
  for (const batch of view.batches()) {
    const found = shareFacts(batch, view.log);
    if (found) yield { how: `shared of ${batch}`, edits: found.edits };
  }
  for (const entry of entries) {
    for (const set of splittable(entry, view.log)) {
      const [low = 0, high = 0] = set.numbers ?? [];
      for (const numbers of [
        [low, low],
        [high, high],
        [low, Math.floor((low + high) / 2)],
      ]) {
        const edits = splitSet(entry, set, numbers);
        if (edits) yield { how: `${numbers} of ${entry.line.text}`, edits };
      }
    }
  }
}

test('whatever is written otherwise, every graft lived through the same', () => {
  let ways = 0;
  fc.assert(
    fc.property(anyLogHere, (log) => {
      const view = logOf(log);
      const before = lived(view);
      for (const { how, edits } of otherways(view)) {
        if (edits.length === 0) continue;
        ways++;
        expect(lived(logOf(edited(view, edits))), `${how}\n${log}`).toEqual(before);
      }
    }),
    { numRuns: 500 },
  );
  expect(ways).toBeGreaterThan(500);
});
