import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { isoDay, parseIso } from '#grammar/values/date.ts';
import { normalize, union } from '#grammar/values/intervals.ts';
import type { Answers } from '#server/engine/answers.ts';
import type { GroupKey } from '#server/engine/figures/levels.ts';
import { type Stats, type StatsAsked, statsOf } from '#server/engine/figures/stats.ts';
import { Log } from '#server/engine/log.ts';
import { lineWeather } from '#server/engine/weather-told.ts';
import { benchOrder } from '#server/statistics/bench-order.ts';
import { answersOf } from '../support/weather.ts';

interface Example {
  readonly texts: readonly string[];
  /** On the day it is shown for, and on any other. */
  readonly answers: Answers;
  readonly on: (day: string) => Answers;
}

/** An example's folder is a log by itself; its settings name the day it is shown for. */
function example(name: string): Example {
  const folder = new URL(`../../examples/${name}/`, import.meta.url);
  const textOf = (file: string) => readFileSync(new URL(file, folder), 'utf8');
  const names = readdirSync(folder);
  const files = names.filter((entry) => entry.endsWith('.graft'));
  const texts = files.map(textOf);
  const stations = Object.fromEntries(
    names.filter((entry) => entry.endsWith('.csv')).map((csv) => [csv, { text: textOf(csv) }]),
  );
  const log = new Log();
  for (const [i, file] of files.entries()) log.addFile(file, texts[i] ?? '');
  const today = JSON.parse(textOf('.vscode/settings.json'))['graftlog.today'] as string;
  return { texts, answers: answersOf(log, today, stations), on: (day) => answersOf(log, day, stations) };
}

const found = ({ answers }: Example) =>
  answers
    .findings()
    .map((finding) => `${finding.severity} ${finding.code} | ${finding.entry.line.text.replace(/\s+/g, ' ').trim()}`);

/** Lines that say something: no blank, no comment alone, no day line. */
const statements = ({ texts }: Example) =>
  texts.flatMap((text) => text.split('\n')).filter((line) => /^\s*[^\s#]/.test(line) && !/^\S+\s*$/.test(line));

const nursery = example('drumlin-lane');

function taught({ by = [], compare = [] }: Partial<StatsAsked>): Stats {
  const histories = [...nursery.answers.all()].map(({ history }) => history);
  return statsOf(histories, { by, compare }, nursery.answers.env);
}

const compared = (...compare: GroupKey[]) => taught({ compare }).comparisons;

/** In whole points, as they are said. */
const points = (share: number | null | undefined) => Math.round((share ?? Number.NaN) * 100);

test('the first log: a dozen lines, one of them with something to say about', () => {
  const first = example('first-log');
  expect(statements(first)).toHaveLength(11);
  expect(found(first)).toEqual([
    'information cut-shallow | graft K24.11,12 cut 15% long 30mm short 8mm scion 4mm x 90mm whorls 2 # too shallow? the log says so',
  ]);
});

test('the example nursery: each slip its code, the healthy lines none', () => {
  expect(found(nursery)).toEqual([
    'warning stored-long | graft WG22.101..110 cut 40% scion 5mm x 80mm whorls 2 by mk # slip: found behind the milk, seven weeks old',
    'information take-early | take L22.1..20 "needles out" # slip: 37 days are too few to know',
    'warning open-soon | open BA22 30% # slip: jo, six days after the last step',
    'warning too-hot | reading tunnel min 16C max 35C "vent motor stuck" # slip: firs under film in this heat',
    'warning cut-deep | graft J23.37..40 cut 55% scion 4mm x 80mm by mk # slip: thin stocks, cut past the middle',
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

test('looked at every two months of its four years, it was up to date but for its slips', () => {
  for (let day = parseIso('2021-09-10') as number; day <= (parseIso('2025-06-20') as number); day += 61) {
    const more = nursery
      .on(isoDay(day))
      .findings()
      .filter(({ code, entry }) => code !== 'future-date' && !entry.line.text.includes('# slip'));
    expect(
      more.map(({ code, entry }) => `${code} | ${entry.line.text}`),
      isoDay(day),
    ).toEqual([]);
  }
});

test('its station tells the nights of the frame, and when frost is past', () => {
  const { answers } = nursery;
  const [line] = answers.log.all('weather');
  const told = line && answers.weather ? lineWeather(line, answers.weather, answers.env) : [];
  const [read, open, covered, frost] = told.map((text) => text.replaceAll('\u00A0', ' '));
  expect(read).toBe('4008 days, 1 Jul 2014 to 20 Jun');
  expect(open).toBe('Its nights are told for no place that stands open; it lends its calendar to all of them.');
  expect(covered).toBe(
    'Under cover, by the median of so many days with both: tent 12.6 °C warmer (5), frame 6.2 °C warmer (14), tunnel 7.6 °C warmer (7).',
  );
  expect(frost).toBe(
    'Last frost past by 19 Apr (50 %), 22 May (80 %), 23 May (90 %), none up to 22 Oct (50 %), 8 Oct (90 %): 11 years.',
  );
});

test('four thousand grafts on 675 lines, four methods, three hands, autumn and spring of four years', () => {
  expect(statements(nursery)).toHaveLength(675);
  const all = [...nursery.answers.all()];
  expect(all.reduce((sum, { figures }) => sum + figures.grafted, 0)).toBe(4000);
  const cohorts = all.flatMap(({ history }) => history.cohorts);
  expect([...new Set(cohorts.map((cohort) => cohort.method))].sort()).toEqual(['cleft', 'side', 'side-veneer', 'whip']);
  expect([...new Set(cohorts.map((cohort) => cohort.hand))].sort()).toEqual(['jo', 'mk', 'ro']);
  expect(cohorts.some((cohort) => cohort.potted) && cohorts.some((cohort) => !cohort.potted)).toBe(true);
  expect(taught({ by: ['year', 'season'] }).groups.map(({ key }) => `${key.season} ${key.year}`)).toEqual([
    'autumn 2021',
    'autumn 2022',
    'spring 2022',
    'autumn 2023',
    'spring 2023',
    'autumn 2024',
    'spring 2024',
    'spring 2025',
  ]);
});

test('the older seasons are judged to the last graft, and leave nothing late behind', () => {
  const autumn = parseIso('2024-09-01') as number;
  const older = [...nursery.answers.all()].filter(({ history }) =>
    history.cohorts.every(({ madeDay }) => madeDay < autumn),
  );
  expect(older).toHaveLength(25);
  expect(older.filter(({ figures }) => figures.open > 0)).toEqual([]);
  expect(older.flatMap(({ work }) => work.filter(({ state }) => state === 'overdue'))).toEqual([]);
});

describe('what four seasons teach', () => {
  test('jo grafted the easy pairs: ahead taken together, behind in the same sittings', () => {
    const rates = taught({ by: ['hand'] }).groups.map(({ key, rate }) => [key.hand, Math.round((rate ?? 0) * 100)]);
    expect(rates).toEqual([
      ['jo', 82],
      ['mk', 71],
      ['ro', 76],
    ]);
    const [jo, ro] = compared('hand');
    expect(jo).toMatchObject({ a: 'jo', b: 'mk', kind: 'within', sittings: 6, word: 'worse', tied: [] });
    expect(jo?.turned.map(({ key, crude, within }) => [key, points(crude), points(within)])).toEqual([
      ['pair', 11, -7],
    ]);
    expect([jo?.difference, jo?.low, jo?.high].map(points)).toEqual([-13, -22, -4]);
    expect(ro).toMatchObject({ a: 'ro', b: 'mk', kind: 'within', sittings: 17, word: 'alike', turned: [] });
  });

  test('a field trial on the larches, in the order drawn, tells cleft from whip', () => {
    const { history } = nursery.answers.of('l23');
    const order = benchOrder(202303, 98, 2, 6);
    const clefts = order.flatMap((way, i) => (way === 0 ? [i + 1, i + 1] : []));
    const made = history.cohorts.filter(({ method }) => method === 'cleft').map(({ numbers }) => numbers);
    expect(made.reduce(union)).toEqual(normalize(clefts));
    const whip = compared('method').find((one) => one.a === 'whip');
    expect(whip).toMatchObject({ b: 'cleft', kind: 'within', sittings: 4, word: 'worse', aJudged: 49, bJudged: 49 });
    expect([whip?.difference, whip?.low, whip?.high].map(points)).toEqual([-27, -41, -11]);
    const label = compared('label').find((one) => one.a === 'B');
    expect(label).toMatchObject({ b: 'A', difference: whip?.difference });
  });

  test('what this record can’t say', () => {
    const [season] = compared('season');
    expect(season).toMatchObject({ a: 'spring', b: 'autumn', kind: 'across', word: 'unclear' });
    expect(season?.tied[0]).toEqual({ key: 'pair', overlap: 0, word: 'never-apart' });
    const [depth] = taught({ compare: ['depth'] }).slopes;
    expect(depth).toMatchObject({ fact: 'depth', word: 'unclear', highAt: 0.475, lowAt: 0.3 });
    expect([depth?.points, depth?.pointsLow, depth?.pointsHigh].map(points)).toEqual([8, -2, 19]);
  });

  test('batches better and worse than usual, a good many that can’t be told apart, and some lost late', () => {
    const { ranking, survival } = taught({ by: ['batch'] });
    const words = ranking?.items.map(({ word }) => word) ?? [];
    expect(['better', 'same', 'worse'].map((word) => words.filter((one) => one === word).length)).toEqual([11, 9, 8]);
    expect(survival).toMatchObject({ late: 5, halfOfLosses: 131 });
  });
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
