import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { batchFigures } from '#server/engine/figures/batch.ts';
import { findingsText, logOf, setText, stagesText } from '../support/log.ts';

/*
 * Six small logs and one of two seasons, worked out by hand before the program was written. Here:
 * stages, cohorts, figures, and what the log itself has wrong; practice and work are tested beside their own code.
 * Intervals: Wilson 1927, JASA 22:209-212, three decimals.
 */
const read = (name: string) => readFileSync(new URL(`logs/${name}.graft`, import.meta.url), 'utf8');
const upTo = (name: string, line: number) => read(name).split('\n').slice(0, line).join('\n');
const figures = (text: string, on: string, batch: string) => batchFigures(logOf(text, on).history(batch), () => 42);
const three = (share: number | null) => (share === null ? null : Math.round(share * 1000) / 1000);

describe('a healthy autumn batch', () => {
  test.each([
    ['2027-02-01', 8, 'made 20'],
    ['2027-04-14', 11, 'made 2, opening 18'],
    ['2027-04-20', 13, 'opening 18, failed 2'],
    ['2027-07-10', 99, 'taken 18, failed 2'],
  ])('on %s, read to line %i', (on, line, stages) => {
    const view = logOf(upTo('healthy-autumn', line), on);
    expect(findingsText(view)).toEqual([]);
    expect(stagesText(view.history('a1'))).toBe(stages);
  });

  test('figures', () => {
    const { rate, low, high, ...counts } = figures(read('healthy-autumn'), '2027-07-10', 'a1');
    expect(counts).toMatchObject({
      grafted: 20,
      taken: 18,
      failed: 2,
      open: 0,
      early: 0,
      late: 0,
      causes: { dried: 2 },
    });
    expect([rate, low, high].map(three)).toEqual([0.9, 0.699, 0.972]);
    const early = figures(upTo('healthy-autumn', 13), '2027-04-20', 'a1');
    expect([early.taken, early.failed, early.rate, early.best, early.worst]).toEqual([0, 2, 0, 18 / 20, 0]);
  });

  test('the pair, the wood and the place', () => {
    const [first] = logOf(read('healthy-autumn')).history('a1').cohorts;
    expect(
      first && [
        setText(first),
        first.scion?.text,
        first.stock?.text,
        first.group,
        first.potted,
        first.stays.map(({ place }) => place),
      ],
    ).toEqual(['A1.1..17', "Pinus parviflora 'Kokonoe'", 'Pinus thunbergii', 'needle', true, ['frame']]);
  });
});

test('slips at the bench are practice; the history itself is sound', () => {
  const view = logOf(read('slips-at-the-bench'), '2027-04-06');
  expect(findingsText(view)).toEqual([]);
  const history = view.history('b2');
  expect(stagesText(history)).toBe('made 10');
  expect(history.cohorts.map(({ potted, stays }) => [potted, stays[0]?.tree, stays[0]?.place])).toEqual(
    Array(10).fill([false, 't3', 'bench']),
  );
  expect(figures(read('slips-at-the-bench'), '2027-04-06', 'b2')).toMatchObject({
    grafted: 10,
    open: 10,
    rate: null,
    low: null,
    high: null,
  });
});

test('the wrap that shrank is an error on line 12, and the share stands at 30', () => {
  const view = logOf(read('wraps-opened-wrongly'), '2027-05-03');
  expect(findingsText(view)).toEqual(['12 error wrap-shrank']);
  expect(view.findings()[0]?.related?.map(({ entry }) => entry.line.text)).toEqual([
    '2027-04-03  open    C3.11..20  30%',
  ]);
  expect(
    view
      .history('c3')
      .cohorts.map((cohort) => [setText(cohort), cohort.share, cohort.visits.at(-1)?.entry.line.text.slice(0, 10)]),
  ).toEqual([
    ['C3.1..10', 0.15, '2027-04-22'],
    ['C3.11..20', 0.3, '2027-04-22'],
    ['C3.21..30', 0.3, '2027-04-21'],
  ]);
  expect(stagesText(view.history('c3'))).toBe('opening 30');
});

test('frozen in the tunnel, ten moved out', () => {
  const view = logOf(read('frost-under-a-roof'), '2027-04-20');
  expect(findingsText(view)).toEqual([]);
  expect(stagesText(view.history('d4'))).toBe('made 10, opening 36, failed 14');
  const { rate, low, high, best, worst, ...counts } = figures(read('frost-under-a-roof'), '2027-04-20', 'd4');
  expect(counts).toMatchObject({ grafted: 60, taken: 0, failed: 14, open: 46, causes: { frozen: 14 } });
  expect([rate, low, high, best, worst].map(three)).toEqual([0, 0, 0.215, 0.767, 0]);
});

test('maples in summer and buds in the field', () => {
  const view = logOf(read('maples-and-buds'), '2027-03-05');
  expect(findingsText(view)).toEqual([]);
  expect([stagesText(view.history('e5')), stagesText(view.history('f5'))]).toEqual([
    'taken 34, failed 6',
    'untied 46, failed 4',
  ]);
  expect(view.history('f5').cohorts.map(({ headback }) => headback)).toEqual([1, 0]);
  const rates = ['e5', 'f5'].map((batch) => {
    const { rate, low, high, causes } = figures(read('maples-and-buds'), '2027-03-05', batch);
    return [three(rate), three(low), three(high), causes];
  });
  expect(rates).toEqual([
    [0.85, 0.709, 0.929, { rotted: 6 }],
    [0.92, 0.812, 0.968, { dried: 4 }],
  ]);
});

test('mould, dry scions and a missed visit', () => {
  const view = logOf(read('mould-and-a-missed-visit'), '2027-05-12');
  expect(findingsText(view)).toEqual([]);
  expect(view.history('g6').cohorts.map((cohort) => [setText(cohort), cohort.share])).toEqual([
    ['G6.1..6', 0.2],
    ['G6.7..19', 0.3],
    ['G6.20..24', 0],
  ]);
  expect(figures(read('mould-and-a-missed-visit'), '2027-05-12', 'g6')).toMatchObject({
    grafted: 24,
    taken: 0,
    failed: 0,
    open: 24,
    rate: null,
  });
});

describe('two seasons at Drumlin Lane', () => {
  const text = read('two-seasons');
  const view = logOf(text, '2028-09-30');

  test('of the marked lines the log itself finds the slip and the lost ones, and nothing on the others', () => {
    const marked = text
      .split('\n')
      .flatMap((line, i) =>
        /#! (unit-slip|after-end)/.test(line) ? [`${i + 1} error ${/#! ([a-z-]+)/.exec(line)?.[1]}`] : [],
      );
    expect(marked).toHaveLength(2);
    expect(findingsText(view)).toEqual(marked);
  });

  test('what became of each batch', () => {
    expect(['k26', 'b26', 'm27', 's27'].map((batch) => stagesText(view.history(batch)))).toEqual([
      'untied 16, failed 4',
      'untied 3, failed 1',
      'taken 2',
      'sold 241, failed 49',
    ]);
    expect(figures(text, '2028-09-30', 's27')).toMatchObject({
      grafted: 290,
      taken: 241,
      failed: 49,
      causes: { rotted: 4, unknown: 45 },
    });
  });

  test('pairs come from lot and tree where the batch tells none', () => {
    const [first] = view.history('b26').cohorts;
    expect([first?.scion?.text, first?.stock?.text, first?.method, first?.hand]).toEqual([
      "Pinus parviflora 'Tenysu'",
      'Pinus thunbergii',
      'side-veneer',
      'mk',
    ]);
  });
});
