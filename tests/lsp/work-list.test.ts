import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { workWords } from '#grammar/vocabulary.ts';
import { workList } from '#server/lsp/work-list.ts';
import { writeLine } from '#server/lsp/write-line.ts';
import { folderOf } from '../support/view.ts';

const project = resolve(import.meta.dirname, '../..');
const nursery = Object.fromEntries(
  readdirSync(join(project, 'examples/drumlin-lane'))
    .filter((name) => name.endsWith('.graft'))
    .map((name) => [name, readFileSync(join(project, 'examples/drumlin-lane', name), 'utf8')]),
);

/** Work that waits on a day: what it is called, and what the pencil beside it would write. */
function waiting(files: Readonly<Record<string, string>>, on: string) {
  const { root } = folderOf(files, on);
  for (const _ of root.answers.all());
  const rows = workList(root).rows.filter(({ state }) => state === 'due' || state === 'overdue');
  return { root, rows };
}

/** The files with a line written under the day, as the editor does. */
function withLine(files: Readonly<Record<string, string>>, on: string, asked: string, text: string) {
  const { root } = waiting(files, on);
  const place = writeLine(root, asked, text);
  if (!place || place.problem) throw new Error(`${text}: ${place?.problem}`);
  const file = root.fileOf(place.uri);
  const lines = (files[file] ?? '').split('\n');
  lines.splice(place.line, 0, ...place.text.replace(/\n$/, '').split('\n'));
  return { ...files, [file]: lines.join('\n') };
}

const head = (method: string) => `site Drumlin-Lane  lat 47.9  lon 8.1
place frame  frost-free shade wind-break
batch K26  Acer palmatum / Acer palmatum  ${method}  film 38mm  in frame
2026-03-09
graft K26.1..8  cut 40%
`;
const swelling = `${head('cleft')}2026-04-10\nswell K26\n`;
const free = `${swelling}2026-04-24\nopen K26 100%\n2026-05-20\nfree K26\n`;
const pine = `site Drumlin-Lane  lat 47.9  lon 8.1
place bed
batch K26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in bed
`;
const autumn = `${pine}2025-10-09\ngraft K26.1..8  cut 40%\n`;
const summer = `${pine}2026-06-20\ngraft K26.1..8  cut 40%\n`;
const logs: Readonly<Record<string, { readonly log: string; readonly on: string }>> = {
  'cover, watch, look': { log: autumn, on: '2025-10-17' },
  watch: { log: autumn, on: '2026-04-01' },
  shade: { log: summer, on: '2026-06-20' },
  'open, suckers': { log: swelling, on: '2026-05-05' },
  'judge: laggards': { log: swelling.replace('swell K26', 'swell K26.1..4'), on: '2026-06-05' },
  'judge: stalled': { log: `${swelling}2026-04-24\nopen K26 10%\n`, on: '2026-07-06' },
  'judge: buds': { log: head('chip-bud').replace('2026-03-09', '2026-08-01'), on: '2026-08-30' },
  'a graft found dry': { log: `${swelling}2026-04-20\ncheck K26 dry\n`, on: '2026-04-21' },
  'take, tie': { log: free, on: '2026-06-20' },
  'a tie found biting': { log: `${free}2026-06-01\ncheck K26 biting\n`, on: '2026-06-05' },
  'untie, again': { log: `${free}2026-06-25\ntake K26\n`, on: '2027-07-01' },
  headback: {
    log: `${autumn}2026-04-02\nswell K26\n2026-05-20\nopen K26 100%\nfree K26\n2026-06-30\ntake K26\n`,
    on: '2026-07-20',
  },
  sever: { log: head('approach').replace('2026-03-09', '2025-05-09'), on: '2026-11-01' },
};

describe('the line that the pencil writes is the work: it leaves the list', () => {
  const asked = new Set<string>();
  const made = Object.entries(logs).flatMap(([name, { log, on }]) => [
    { name, log, on },
    { name: `${name}, counted`, log: log.replace('graft K26.1..8', 'graft K26 x8').replace('K26.1..4', 'K26'), on },
  ]);
  for (const { name, log, on } of made)
    test(name, () => {
      const { rows } = waiting({ 'a.graft': log }, on);
      expect(rows.length).toBeGreaterThan(0);
      for (const { what, grafts, from, write } of rows) {
        asked.add(what);
        for (const { text } of write) {
          const { rows: left } = waiting(withLine({ 'a.graft': log }, on, 'a.graft', text), on);
          const still = left.filter((row) => row.what === what && row.grafts === grafts && row.from === from);
          expect(still, text).toEqual([]);
        }
      }
    });

  test('in the example nursery, which shows whatever work there is in June', () => {
    const on = '2025-06-20';
    const { rows, root } = waiting(nursery, on);
    expect(rows.length).toBeGreaterThan(10);
    for (const { what, grafts, from, at, write } of rows) {
      const { text } = write[0] as { text: string };
      const { rows: left } = waiting(withLine(nursery, on, root.fileOf(at.uri), text), on);
      const still = left.filter((row) => row.what === what && row.grafts === grafts && row.from === from);
      expect(still, text).toEqual([]);
    }
  });

  test('what was found is asked where the line depends on it', () => {
    const seen = (name: string) => {
      const { log, on } = logs[name] as { log: string; on: string };
      const judged = waiting({ 'a.graft': log }, on).rows.find(({ what }) => what === 'judge');
      return judged?.write.map(({ seen: found, text }) => `${found}: ${text}`);
    };
    expect(seen('judge: laggards')).toEqual(['Buds are swelling: swell  K26.5..8', 'Lost: fail  K26.5..8']);
    expect(seen('judge: stalled')).toEqual(['Green: it goes on: check  K26.1..8  green', 'Lost: fail  K26.1..8']);
    expect(seen('judge: buds')).toEqual(['Grown together: take  K26.1..8', 'Lost: fail  K26.1..8']);
  });

  test('kinds of work tried', () => {
    expect(workWords.filter((what) => !asked.has(what))).toEqual([]);
  });
});

test('a tie found biting is renewed, not looked at; a graft found dry is wrapped again, not covered', () => {
  const row = (name: string, kind: string) => {
    const { log, on } = logs[name] as { log: string; on: string };
    return waiting({ 'a.graft': log }, on).rows.find(({ what }) => what === kind);
  };
  expect(row('a tie found biting', 'tie')).toMatchObject({
    title: 'renew the tie',
    write: [{ seen: '', text: 'retie  K26.1..8' }],
  });
  expect(row('a graft found dry', 'cover')).toMatchObject({
    title: 'wrap again',
    write: [{ seen: '', text: 'rewrap  K26.1..8' }],
  });
});
