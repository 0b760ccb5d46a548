import { expect, test } from 'vitest';
import { isoDay } from '#grammar/values/date.ts';
import { merge } from '#server/engine/merge.ts';
import { familyOf, groupOf } from '#server/engine/plant.ts';
import { livingOf, stageCounts, stageOf } from '#server/engine/stage.ts';
import { storyOf } from '#server/engine/story.ts';
import { logOf, setText } from '../support/log.ts';

const made = 'batch K26  Pinus mugo\n2026-10-09  graft K26.1..20\n';

test('what a set went through, in the notation’s verbs', () => {
  const view = logOf(
    `place frame\nplace yard\n${made}2027-03-20 swell K26\n2027-03-22 open K26 10%\n2027-03-25 check K26.1 dry mould\n2027-04-01 move K26.1 to yard\n2027-04-02 reading yard min 3C\n2027-04-03 check yard wet\n2027-04-05 open K26.1 1/3 "in rain"\n2027-04-12 fail K26.1 dried\n`,
  );
  const [one] = view.history('k26').cohorts;
  expect(one && storyOf(one).map(({ day, words }) => `${isoDay(day)} ${words.replaceAll('\u00A0', ' ')}`)).toEqual([
    '2026-10-09 graft',
    '2027-03-20 swell',
    '2027-03-22 open 10 %',
    '2027-03-25 check dry mould',
    '2027-04-01 move to yard',
    '2027-04-03 check wet',
    '2027-04-05 open 33 % “in rain”',
    '2027-04-12 fail dried',
  ]);
});

test('what was said of some of a set says so', () => {
  const [one] = logOf(`${made}2027-03-20 swell K26 x4\n`).history('k26').cohorts;
  expect(one && storyOf(one).map(({ words }) => words)).toEqual(['graft', 'swell, some of them']);
});

test('stages come one after the other, whatever the order of the lines', () => {
  const stage = (lines: string) =>
    logOf(made + lines)
      .history('k26')
      .cohorts.map((cohort) => stageOf(cohort))
      .join(' ');
  expect(stage('')).toBe('made');
  expect(stage('2027-03-20 swell K26\n')).toBe('swelling');
  expect(stage('2027-03-20 open K26 10%\n')).toBe('opening');
  expect(stage('2027-03-20 open K26 10%\n2027-03-22 rewrap K26\n')).toBe('made');
  expect(stage('2027-03-20 free K26\n')).toBe('free');
  expect(stage('2027-03-20 take K26\n')).toBe('taken');
  expect(stage('2027-03-20 untie K26\n2027-03-21 take K26\n')).toBe('untied');
  expect(stage('2027-03-20 take K26\n2027-03-21 sell K26\n')).toBe('sold');
  expect(stage('2027-03-20 sell K26\n2027-03-21 take K26\n2027-03-22 fail K26\n')).toBe('failed');
});

test('counted losses come off the living, though nobody knows which', () => {
  const history = logOf(`${made}2027-03-01 fail K26.1..10 x4 rotted\n2027-03-20 swell K26\n`).history('k26');
  expect(history.cohorts.map((cohort) => [setText(cohort), livingOf(history, cohort), cohort.undivided])).toEqual([
    ['K26.1..10', 6, false],
    ['K26.11..20', 10, false],
  ]);
  expect(stageCounts(history)).toEqual({ failed: 4, swelling: 16 });
});

test('findings of one line and code in several batches are one, naming the sets', () => {
  const view = logOf(
    'batch K26 Pinus mugo\nbatch B26 Pinus mugo\n2026-10-09 graft K26.1..4\n2026-10-09 graft B26.1..3\n2027-10-01 untie K26 B26\n',
  );
  const [entry] = view.history('k26').cohorts.map(({ made: line }) => line);
  if (!entry) throw new Error('nothing was made');
  const told = (grafts: string, message: string) => ({
    code: 'froze' as const,
    severity: 'warning' as const,
    entry,
    span: { start: 0, end: 4 },
    grafts,
    message,
  });
  expect(
    merge([told('K26.1..4', '−1.5 °C: K26.1..4 in doubt.'), told('B26.1..3', '−1.5 °C: B26.1..3 in doubt.')]).map(
      ({ grafts, message }) => [grafts, message],
    ),
  ).toEqual([['B26.1..3 K26.1..4', '−1.5 °C: B26.1..3, K26.1..4 in doubt.']]);
  expect(
    merge([told('K26.1', 'K26.1 was lost on 1 Oct.'), told('B26.1', 'B26.1 was sold on 2 Oct.')])[0]?.message,
  ).toBe('B26.1 was sold on 2 Oct; the like holds for K26.1.');
  const many = Array.from({ length: 40 }, (_, i) => told(`K${i + 1}.1..4`, `−1.5 °C: K${i + 1}.1..4 in doubt.`));
  expect(merge(many)[0]?.message).toBe('−1.5 °C: K1.1..4 and 39 more sets in doubt.');
});

test('groups of plants: a genus that is spelled and not listed is broadleaf, no plant is no group', () => {
  expect(['Pinus', 'Juniperus', 'Larix', 'Ginkgo', 'Acer', 'Sequoia'].map((genus) => groupOf({ genus }))).toEqual([
    'needle',
    'scale',
    'shedding',
    'shedding',
    'broadleaf',
    'broadleaf',
  ]);
  expect(groupOf(undefined)).toBeUndefined();
  expect(['Abies', 'Larix', 'Thuja', 'Metasequoia', 'Acer'].map((genus) => familyOf({ genus }))).toEqual([
    'Pinaceae',
    'Pinaceae',
    'Cupressaceae',
    'Cupressaceae',
    undefined,
  ]);
});
