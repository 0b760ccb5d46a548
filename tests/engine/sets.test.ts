import { describe, expect, test } from 'vitest';
import { batchFigures } from '#server/engine/figures/batch.ts';
import {
  cohortsText,
  expectLogFindings,
  findingsText,
  logOf,
  mended,
  setText,
  stagesText,
  talliesText,
} from '../support/log.ts';

const made = 'batch K26  Pinus mugo  side-veneer\n2026-10-09  graft K26.1..20\n';
const history = (text: string, on?: string) => logOf(text, on).history('k26');

describe('a set means the grafts that live that day', () => {
  test('cohorts are sets of numbers, split by the lines that touch a part of them', () => {
    const { cohorts } = history(`${made}2027-03-20  swell K26.1..12,15\n2027-03-22  open K26.3..6  10%\n`);
    expect(cohorts.map(setText)).toEqual(['K26.1,2,7..12,15', 'K26.3..6', 'K26.13,14,16..20']);
  });

  test('two lines of one graft line each stay cohorts of their own', () => {
    expect(
      cohortsText(history('batch K26 Pinus mugo\n2026-10-09 graft K26.1..4\n2026-10-09 graft K26.5..8\n')),
    ).toEqual(['K26.1..4 made', 'K26.5..8 made']);
  });

  test('`rest`: the living not yet judged; `except` takes off', () => {
    const view = logOf(
      `${made}2027-03-20  fail K26.1,2  dried\n2027-06-30  take K26 except K26.18..20\n2027-07-02  fail K26 rest  rejected\n`,
    );
    expect(findingsText(view)).toEqual([]);
    expect(cohortsText(view.history('k26'))).toEqual(['K26.1,2 failed', 'K26.3..17 taken', 'K26.18..20 failed']);
  });

  test('a graft named twice on one line is meant once', () => {
    expect(findingsText(logOf(`${made}2027-09-01  headback K26 K26.3  1/3\n`))).toEqual([]);
  });

  test('nothing made yet is before-graft, nothing left is after-end, an empty `rest` is silent', () => {
    expectLogFindings(`
batch K26  Pinus mugo
2026-10-01  open K26  10%
#                ^^^ error before-graft: Nothing of \`K26\` is made yet: its first grafts are of 9 Oct.
2026-10-02  headback K26  30%
2026-10-09  graft K26.1..4
2027-06-30  take K26
2027-07-01  fail K26 rest
2027-07-02  fail K26  girdled
2027-07-03  check K26  dry
#                 ^^^ error after-end: Nothing is left of \`K26\`: the last were lost on 2 Jul.
2027-07-03  fail K26 rest
`);
    expectLogFindings(`
batch K26  Pinus mugo
2026-10-01  open K26  10%
#                ^^^ error before-graft: Nothing of \`K26\` is made yet: a \`graft\` line comes first.
`);
  });

  test('of a whole batch the sold are meant by check, take and fail only', () => {
    const view = logOf(
      `${made}2027-05-01  sell K26.1..5\n2027-05-02  swell K26\n2027-05-03  check K26  green\n2027-06-30  take K26\n`,
    );
    expect(findingsText(view)).toEqual([]);
    expect(
      view.history('k26').cohorts.map((cohort) => [setText(cohort), cohort.visits.map(({ verb }) => verb).join(' ')]),
    ).toEqual([
      ['K26.1..5', 'graft sell check take'],
      ['K26.6..20', 'graft swell check take'],
    ]);
  });
});

describe('numbers are taken at their word', () => {
  test('never made, not yet made, lost, sold', () => {
    expectLogFindings(`
batch K26  Pinus mugo
2026-10-09  graft K26.1..20
2027-03-20  swell K26.19..22
#                 ^^^^^^^^^^ error unknown-graft: K26.21,22 were never made: \`K26\` has 1..20,30.
2027-03-20  swell K26.30
#                 ^^^^^^ error before-graft: K26.30 is made on 4 Apr, and this line stands before that.
2027-04-04  graft K26.30
2027-04-12  fail K26.10,11  dried
2027-04-12  sell K26.12
2027-04-17  open K26.9..12  30%
#                ^^^^^^^^^ error after-end: K26.10,11 were lost on 12 Apr; the like holds for K26.12.
2027-04-18  take K26.12
2027-04-19  check K26 except K26.40
#                            ^^^^^^ error unknown-graft: K26.40 was never made.
`);
  });

  test('one slip in a `graft` line is one error; lines that follow from it only lead back to it', () => {
    expectLogFindings(`
batch K26  Pinus mugo
2026-10-09  grft K26.1..20
#           ^^^^ error unknown-word: \`grft\` is no verb of the notation. Is it \`graft\`?
2027-03-20  swell K26.1..4
#                 ^^^^^^^^ error unknown-graft: K26.1..4 were never made: no \`graft\` line names \`K26\`.
2027-04-12  fail K26.10  dried
#                ^^^^^^ hint unknown-graft: K26.10 was never made, as told before: this line counts once a \`graft\` line names it.
`);
    expectLogFindings(`
batch K26  Pinus mugo
2026-10-09  graft K26.1..4
2027-03-20  swell K26.1..6
#                 ^^^^^^^^ error unknown-graft: K26.5,6 were never made: \`K26\` has 1..4.
2027-04-12  fail K26.6  dried
#                ^^^^^ hint unknown-graft: K26.6 was never made, as told before: this line counts once a \`graft\` line names it.
2027-04-12  fail K26.9  dried
#                ^^^^^ error unknown-graft: K26.9 was never made: \`K26\` has 1..4.
`);
  });

  test('the lost ones can be left out', () => {
    const view = logOf(`${made}2027-04-12  fail K26.10,11  dried\n2027-04-17  open K26.9..11  30%\n`);
    const [finding] = view.findings();
    expect(finding?.grafts).toBe('K26.10,11');
    expect(finding?.related?.map(({ entry }) => entry.line.text)).toEqual(['2027-04-12  fail K26.10,11  dried']);
    expect(finding && mended(view, finding, 'Leave K26.10,11 out')).toEqual(['2027-04-17  open K26.9  30%']);
  });

  test('before the graft only work on the understocks, and it counts for nothing', () => {
    const view = logOf(
      `batch K26  Pinus mugo\n2026-09-20  water K26.1..20\n2026-09-20  headback K26.1..20  30%\n${made.split('\n')[1]}\n2027-09-01  headback K26  1/3\n`,
    );
    expect(findingsText(view)).toEqual([]);
    expect(view.history('k26').cohorts.map(({ headback, visits }) => [headback, visits.length])).toEqual([[1 / 3, 2]]);
  });

  test('made twice: the numbers keep for life', () => {
    const view = logOf(`${made}2026-11-01  graft K26.19..24\n`);
    expect(view.findings().map(({ code, message }) => [code, message])).toEqual([
      ['repeated-graft', 'K26.19,20 were made on 9 Oct: numbers keep for life, and the next free one is 25.'],
    ]);
    expect(view.findings()[0]?.mends?.map(({ title }) => title)).toEqual(['Make it K26.25..30', 'Leave K26.19,20 out']);
    expect(cohortsText(view.history('k26'))).toEqual(['K26.1..20 made', 'K26.21..24 made']);
  });
});

describe('counts', () => {
  test('a counted batch numbers its grafts inwardly; it is numbered or counted, not both', () => {
    expectLogFindings(`
batch K26  Pinus mugo
2026-10-09  graft K26 x40
2026-10-10  graft K26 x20
2026-10-11  graft K26.1..5
#                 ^^^^^^^^ error contradiction: \`K26\` is counted, and here it is numbered: a batch is one or the other.
2027-03-01  fail K26.3
#                ^^^^^ error unknown-graft: The grafts of \`K26\` were counted, not numbered: write \`K26\`, or how many, \`K26 x4\`.
`);
    const counted = history('batch K26 Pinus mugo\n2026-10-09 graft K26 x40\n2026-10-10 graft K26 x20\n');
    expect(counted.cohorts.map(({ numbers }) => numbers)).toEqual([
      [1, 40],
      [41, 60],
    ]);
    expect(cohortsText(counted)).toEqual(['K26 made', 'K26 made']);
  });

  test('counts add up, and one that is too large takes no part', () => {
    expectLogFindings(`
batch K26  Pinus mugo
2026-10-09  graft K26 x40
2027-06-01  fail K26 x5  dried
2027-06-30  take K26 x10
2027-07-01  take K26 x20
2027-07-02  take K26 x6
#                    ^^ error count-exceeds: 6 of K26: 5 are still to judge that day, so this count takes no part.
2027-07-02  fail K26 x36
#                    ^^^ error count-exceeds: 36 of K26: 35 are alive that day, so this count takes no part.
`);
    const { taken, failed, open } = batchFigures(
      history(
        'batch K26 Pinus mugo\n2026-10-09 graft K26 x40\n2027-06-01 fail K26 x5\n2027-06-30 take K26 x10\n2027-07-01 take K26 x20\n',
      ),
      () => 42,
    );
    expect([taken, failed, open]).toEqual([30, 5, 5]);
  });

  test('a named loss is one more than the counted ones, until more would be lost than were made', () => {
    const figures = (lines: string) => {
      const { failed, causes } = batchFigures(
        history(`batch K26 Pinus mugo\n2026-10-09 graft K26.1..6\n${lines}`),
        () => 42,
      );
      return [failed, causes];
    };
    expect(figures('2027-03-01 fail K26 x4 rotted\n2027-03-02 fail K26.3 dried\n')).toEqual([
      5,
      { rotted: 4, dried: 1 },
    ]);
    expect(figures('2027-03-01 fail K26 x4 rotted\n2027-03-02 fail K26.1..3 dried\n')).toEqual([
      6,
      { rotted: 4, dried: 2 },
    ]);
    expect(figures('2027-03-01 fail K26 x4 rotted\n2027-03-02 fail K26 dried\n')).toEqual([6, { rotted: 4, dried: 2 }]);
  });

  test('a count smaller than its set leaves it undivided until `rest` or named lines settle it', () => {
    const opened = history(`${made}2027-03-20 swell K26\n2027-03-22 open K26 x10 10%\n`);
    expect(opened.cohorts.map(({ undivided, share, visits }) => [undivided, share, visits.at(-1)?.undivided])).toEqual([
      [true, 0, true],
    ]);
    const settled = history(`${made}2027-03-20 swell K26\n2027-03-22 open K26 x10 10%\n2027-04-02 open K26 20%\n`);
    expect(settled.cohorts.map(({ undivided, share }) => [undivided, share])).toEqual([[false, 0.2]]);
    const whole = history(`${made}2027-03-20 swell K26 x20\n`);
    expect(cohortsText(whole)).toEqual(['K26.1..20 swelling']);
    const named = history(`${made}2027-03-20 swell K26 x10\n2027-03-21 swell K26.1..4\n`);
    expect(named.cohorts.map((cohort) => [setText(cohort), cohort.undivided])).toEqual([
      ['K26.1..4', false],
      ['K26.5..20', true],
    ]);
  });

  test('a tray counted through: takes by count, the rest lost, what lives is taken', () => {
    const lines = [
      'batch K26 Pinus mugo',
      '2026-10-09 graft K26.1..150',
      '2026-10-09 graft K26.151..290',
      '2027-03-01 fail K26.1..40 x4 rotted',
      '2027-06-30 take K26.1..150 x128',
      '2027-06-30 take K26.151..290 x113',
    ];
    const half = history(lines.join('\n'));
    expect(half.cohorts.map(({ undivided }) => undivided)).toEqual([true, true, true]);
    expect(stagesText(half)).toBe('made 45, taken 241, failed 4');
    const view = logOf(`${lines.join('\n')}\n2027-07-01 fail K26 rest\n2027-10-20 sell K26\n`);
    expect(findingsText(view)).toEqual([]);
    const done = view.history('k26');
    expect(talliesText(done)).toEqual([
      '4 of 1..40 fail rotted',
      '128 of 1..150 take',
      '113 of 151..290 take',
      '18 of 1..150 fail unknown',
      '27 of 151..290 fail unknown',
    ]);
    expect(stagesText(done)).toBe('sold 241, failed 49');
    expect(done.cohorts.map(({ undivided, counted, take }) => [undivided, counted, take !== undefined])).toEqual(
      Array(3).fill([false, true, true]),
    );
    expect(batchFigures(done, () => 42)).toMatchObject({
      grafted: 290,
      taken: 241,
      failed: 49,
      open: 0,
      late: 0,
      causes: { rotted: 4, unknown: 45 },
    });
  });

  test('of a tray, so many: those lost before are no slip', () => {
    expect(findingsText(logOf(`${made}2027-03-01 fail K26.3\n2027-03-02 fail K26.1..10 x2\n`))).toEqual([]);
  });
});

test('cohorts end where a practice or accept line names some of their numbers', () => {
  const { cohorts } = history(
    'batch K26 Pinus mugo\n2026-10-09 graft K26.1..20\naccept side-top K26.3\npractice K26.10..12 cut 30..60%\n',
  );
  expect(cohorts.map(setText)).toEqual(['K26.1,2,4..9,13..20', 'K26.3', 'K26.10..12']);
});
