import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parseIso } from '#grammar/values/date.ts';
import { Answers } from '#server/engine/answers.ts';
import { Log } from '#server/engine/log.ts';

interface Example {
  readonly texts: readonly string[];
  readonly answers: Answers;
}

/** An example's folder is a log by itself; its settings name the day it is shown for. */
function example(name: string): Example {
  const folder = new URL(`../../examples/${name}/`, import.meta.url);
  const files = readdirSync(folder).filter((entry) => entry.endsWith('.graft'));
  const texts = files.map((file) => readFileSync(new URL(file, folder), 'utf8'));
  const log = new Log();
  for (const [i, file] of files.entries()) log.addFile(file, texts[i] ?? '');
  const settings = JSON.parse(readFileSync(new URL('.vscode/settings.json', folder), 'utf8'));
  return { texts, answers: new Answers(log, parseIso(settings['graftlog.today']) as number) };
}

const found = ({ answers }: Example) =>
  answers
    .findings()
    .map((finding) => `${finding.severity} ${finding.code} | ${finding.entry.line.text.replace(/\s+/g, ' ').trim()}`);

/** Lines that say something: no blank, no comment alone, no day line. */
const statements = ({ texts }: Example) =>
  texts.flatMap((text) => text.split('\n')).filter((line) => /^\s*[^\s#]/.test(line) && !/^\S+\s*$/.test(line));

const nursery = example('drumlin-lane');

test('the first log: a dozen lines, one of them with something to say about', () => {
  const first = example('first-log');
  expect(statements(first)).toHaveLength(11);
  expect(found(first)).toEqual([
    'information cut-shallow | graft K24.11,12 cut 15% long 30mm short 8mm scion 4mm x 90mm whorls 2 # too shallow? the log says so',
  ]);
});

test('the example nursery: each slip its code, the healthy lines none', () => {
  expect(found(nursery)).toEqual([
    'error unit-slip | graft P24.41 cut 40% long 30cm scion 4mm x 90mm whorls 2 by mk # slip: 30 mm was meant',
    'warning whorls-many | graft P24.119,120 cut 40% scion 4mm x 110mm whorls 4 by ro # slip: needles left on to see what happens',
    'warning cut-shallow | graft T24.5 onto T1 cut 20% scion 5mm x 80mm whorls 2 under out 3cm branch "third left" by mk # slip: the knife ran out',
    'warning froze | reading frame min -1.2C "the lid of the second frame was left ajar" # slip: froze inside',
    'warning open-wide | open O24.1..30 40% # slip: from 10 to 40 in one go, a hot noon and a hurry',
    'error after-end | open P24.1..112 30% # slip: 61 and 62 are lost since Monday',
    'error unknown-word | fail O24.4..9 dreid # slip: dried was meant; these are of the forty-percent tray',
    'information overdue | open P25 40% # slip: the second bed was not opened again, and is late by now',
    'information mould-left | check J25.71..80 mould # slip: nothing was done about it',
  ]);
});

test('every line that owns up to a slip has a finding, and no other line has one', () => {
  const owned = statements(nursery).filter((line) => line.includes('# slip'));
  expect(found(nursery).map((line) => line.replace(/^.*? \| /, ''))).toEqual(
    owned.map((line) => line.replace(/\s+/g, ' ').trim()),
  );
});

test('a thousand grafts on 237 lines, three methods, two hands', () => {
  expect(statements(nursery)).toHaveLength(237);
  const all = [...nursery.answers.all()];
  expect(all.reduce((sum, { figures }) => sum + figures.grafted, 0)).toBe(1000);
  const cohorts = all.flatMap(({ history }) => history.cohorts);
  expect([...new Set(cohorts.map((cohort) => cohort.method))].sort()).toEqual(['cleft', 'side', 'side-veneer']);
  expect([...new Set(cohorts.map((cohort) => cohort.hand))].sort()).toEqual(['mk', 'ro']);
  expect(cohorts.some((cohort) => cohort.potted) && cohorts.some((cohort) => !cohort.potted)).toBe(true);
});

test('a bit of everything to do: late, due, soon and later; whole batches judged, one of them half', () => {
  const all = [...nursery.answers.all()];
  const states = all.flatMap(({ work }) => work.filter((item) => !item.waits || item.state !== 'overdue'));
  expect([...new Set(states.map((item) => item.state))].sort()).toEqual(['due', 'later', 'overdue', 'soon']);
  const figures = Object.fromEntries(all.map(({ history, figures }) => [history.batch.name, figures]));
  expect(figures.A24).toMatchObject({ grafted: 80, taken: 71, failed: 9, open: 0 });
  expect(figures.S24).toMatchObject({ grafted: 180, taken: 160, failed: 20, open: 0 });
  expect(figures.L25).toMatchObject({ grafted: 104, taken: 49, failed: 6, open: 49 });
});
