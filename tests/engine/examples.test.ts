import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parseIso } from '#grammar/values/date.ts';
import { Answers } from '#server/engine/answers.ts';
import { Log } from '#server/engine/log.ts';

/** An example's folder is a log by itself; its settings name the day it is shown for. */
function answersOf(name: string): Answers {
  const folder = new URL(`../../examples/${name}/`, import.meta.url);
  const log = new Log();
  for (const file of readdirSync(folder).filter((entry) => entry.endsWith('.graft')))
    log.addFile(file, readFileSync(new URL(file, folder), 'utf8'));
  const settings = JSON.parse(readFileSync(new URL('.vscode/settings.json', folder), 'utf8'));
  return new Answers(log, parseIso(settings['graftlog.today']) as number);
}

const found = (answers: Answers) =>
  answers
    .findings()
    .map((finding) => `${finding.severity} ${finding.code} | ${finding.entry.line.text.replace(/\s+/g, ' ').trim()}`);

test('the first log: a dozen lines, one of them too shallow', () => {
  const answers = answersOf('first-log');
  expect(found(answers)).toEqual([
    'information cut-shallow | graft P25.13..20 cut 15% long 30mm short 8mm whorls 2 by mk # too shallow? the log says so',
  ]);
});

test('the example nursery: each slip its code, and nothing else', () => {
  const answers = answersOf('drumlin-lane');
  expect(found(answers)).toEqual([
    'warning cut-shallow | graft B24.3 onto T14 cut 2mm stock 9mm whorls 2 right out 2cm branch "low right" # slip: only 22 %',
    'warning frost-cover-missing | graft B24.8 onto T5 cut 40% stock 10mm whorls 2 under out 3cm # slip: stays in the yard',
    'warning whorls-many | graft P24.41..60 cut 40% scion 4mm x 90mm whorls 4 by jo # slip: four rings left on',
    'warning open-wide | open S24.121..196 30% # slip: twenty points at once',
    'error after-end | fail P24.232 dried # slip: was lost in March already',
    'information overdue | open F25.1..112 20% # the next step is late by now',
  ]);
});

test('about a thousand grafts in four methods and by two hands', () => {
  const answers = [...answersOf('drumlin-lane').all()];
  expect(answers.reduce((sum, { figures }) => sum + figures.grafted, 0)).toBe(1012);
  const cohorts = answers.flatMap(({ history }) => history.cohorts);
  expect([...new Set(cohorts.map((cohort) => cohort.method))].sort()).toEqual([
    'cleft',
    'side-veneer',
    'thread',
    'whip',
  ]);
  expect([...new Set(cohorts.map((cohort) => cohort.hand))].sort()).toEqual(['jo', 'mk']);
});
