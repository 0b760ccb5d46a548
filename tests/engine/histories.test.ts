import { describe, expect, test } from 'vitest';
import { isoDay } from '#grammar/values/date.ts';
import { cohortsText, expectLogFindings, findingsText, logOf, mended, setText } from '../support/log.ts';

const made = 'batch K26  Pinus mugo  side-veneer\n2026-10-09  graft K26.1..20\n';
const cohorts = (text: string, batch = 'k26') => logOf(text).history(batch).cohorts;

describe('every share is how far it is now', () => {
  test('a wrap that shrank is told alone; the share stays and the day counts as a visit', () => {
    expectLogFindings(`
batch K26  Pinus mugo
2026-10-09  graft K26.1..20
2027-04-01  open K26  20%
2027-04-12  open K26.1..5  10%
#                          ^^^ error wrap-shrank: The wrap of K26.1..5 was 20 % open on 1 Apr, and here it is 10 %: write how far it is now.
2027-04-20  rewrap K26.6..10  film 38mm
2027-04-25  open K26.6..10  5%
2027-04-25  open K26.1..5  20%
`);
    const [first] = cohorts(`${made}2027-04-01  open K26  20%\n2027-04-12  open K26.1..5  10%\n`);
    expect(first && [setText(first), first.share, first.visits.length]).toEqual(['K26.1..5', 0.2, 3]);
  });

  test('the mend writes what a step on top of the last one comes to', () => {
    const view = logOf(`${made}2027-04-01  open K26  20%\n2027-04-12  open K26  10%\n`);
    const [finding] = view.findings();
    expect(finding && mended(view, finding, 'Make it 30%')).toEqual(['2027-04-12  open K26  30%']);
    expect(finding && mended(view, finding, 'Write the rewrap above')).toEqual(['2027-04-12 rewrap K26.1..20']);
  });

  test('of a share given as an interval the upper end counts', () => {
    expect(cohorts(`${made}2027-04-01  open K26  10..15%\n`)[0]?.share).toBe(0.15);
  });

  test('heading back rises each time', () => {
    const text = `
batch K26  Pinus mugo
2026-10-09  graft K26.1..20
2027-09-01  headback K26  1/3
2027-11-01  headback K26  1/3
#                         ^^^ error contradiction: Headed back to 1/3 on 1 Sep, and 1/3 here: if that is so much more, it is \`2/3\` by now.
2028-01-01  headback K26  100%
2028-02-01  headback K26  50%
#                         ^^^ error contradiction: Headed back to 100% on 1 Jan, and 50% here: a share is how far it is now.
`;
    expectLogFindings(text);
    const view = logOf(`${made}2027-09-01  headback K26  1/3\n2027-11-01  headback K26  1/3\n`);
    const [finding] = view.findings();
    expect(finding?.related?.map(({ entry }) => entry.line.text)).toEqual(['2027-09-01  headback K26  1/3']);
    expect(finding && mended(view, finding, 'Make it 2/3')).toEqual(['2027-11-01  headback K26  2/3']);
  });

  test('up to and on the grafting day it prepares the stock and counts for nothing', () => {
    const text =
      'batch K26 Pinus mugo\n2026-09-01 headback K26.1..4 1/2\n2026-10-09\ngraft K26.1..4\nheadback K26 1/2\n2027-09-01 headback K26 1/3\n';
    expect(findingsText(logOf(text))).toEqual([]);
    expect(cohorts(text)[0]?.headback).toBeCloseTo(1 / 3);
  });

  test('severing rises, too; without a share it is through', () => {
    expectLogFindings(
      `
tree T3  Pinus mugo
batch K26  Pinus mugo  approach
2027-04-01  graft K26.1,2  onto T3
2028-03-01  sever K26.1  1/2
2028-04-01  sever K26
2028-05-01  sever K26.1
#                 ^^^^^ error contradiction: Severed to 100% on 1 Apr, and through here: a share is how far it is now.
`.replace('to 100%', 'to 100 %'),
    );
  });
});

describe('tying', () => {
  test('untied twice needs a `retie` between', () => {
    expectLogFindings(`
batch K26  Pinus mugo
2026-10-09  graft K26.1..20
2027-10-01  untie K26.1..10
2027-10-05  retie K26.1..5  tie raffia
2027-10-20  untie K26
#                 ^^^ error contradiction: K26.6..10 were untied on 1 Oct and not tied again: a \`retie\` comes between.
`);
  });

  test('a `retie` counts for the whole of its day', () => {
    expect(findingsText(logOf(`${made}2027-10-01 untie K26\n2027-10-20\nuntie K26\nretie K26 tie raffia\n`))).toEqual(
      [],
    );
    expect(cohorts(`${made}2027-10-01 untie K26\n`)[0]?.untied).toBeDefined();
    expect(cohorts(`${made}2027-10-01 untie K26\n2027-10-20 retie K26\n`)[0]?.untied).toBeUndefined();
  });
});

describe('what counts for the whole of a day', () => {
  test('cover, swell, free, check and retie may stand above the graft, `open` may not', () => {
    expectLogFindings(`
batch K26  Pinus mugo
2026-10-09
check K26.1  green
cover K26  shade
open K26.1  10%
#    ^^^^^ error before-graft: K26.1 is made on 9 Oct, and this line stands before that.
graft K26.1..4
`);
  });

  test('and below a loss of the same day', () => {
    expect(findingsText(logOf(`${made}2027-04-12\nfail K26.10  dried\ncheck K26.10  dry\n`))).toEqual([]);
    expect(findingsText(logOf(`${made}2027-04-12  fail K26.10  dried\n2027-04-13  check K26.10  dry\n`))).toEqual([
      '4 error after-end',
    ]);
  });
});

test('of swell, free and take the first day counts, and what is free has swollen', () => {
  const [one, two] = cohorts(
    `${made}2027-03-20 swell K26.1\n2027-03-25 swell K26.1\n2027-05-20 free K26\n2027-05-22 free K26\n2027-06-30 take K26\n2027-08-30 take K26\n`,
  );
  const days = (cohort: typeof one) =>
    [cohort?.swell, cohort?.free, cohort?.take].map((day) => (day === undefined ? '' : isoDay(day)));
  expect(days(one)).toEqual(['2027-03-20', '2027-05-20', '2027-06-30']);
  expect(days(two)).toEqual(['2027-05-20', '2027-05-20', '2027-06-30']);
});

describe('where grafts stand', () => {
  const trees = 'place yard\nplace frame\ntree T3  Pinus mugo  in yard\nbatch K26  Pinus mugo  in frame\n';
  const stays = (text: string) =>
    cohorts(text)[0]?.stays.map(({ day, place, tree, unknown }) =>
      [isoDay(day), place, tree, ...(unknown ? ['unknown'] : [])].join(' '),
    );

  test('in their batch’s place till they are moved', () => {
    expect(stays(`${trees}2026-10-09 graft K26.1\n2027-04-01 move K26 to yard\n`)).toEqual([
      '2026-10-09 frame ',
      '2027-04-01 yard ',
    ]);
  });

  test('a graft onto a tree stands where the tree stands, and the batch’s place yields', () => {
    expect(
      stays(`${trees}2026-10-01 move T3 to frame\n2026-10-09 graft K26.1 onto T3\n2027-04-01 move T3 to yard\n`),
    ).toEqual(['2026-10-09 frame t3', '2027-04-01 yard t3']);
  });

  test('an undeclared place and a tree without one are unknown; nothing told is no stay', () => {
    expect(stays('batch K26 Pinus mugo\n2026-10-09 graft K26.1 in shed\n')).toEqual(['2026-10-09 shed  unknown']);
    expect(stays('tree T9 Pinus mugo\nbatch K26 Pinus mugo\n2026-10-09 graft K26.1 onto T9\n')).toEqual([
      '2026-10-09  t9 unknown',
    ]);
    expect(stays('batch K26 Pinus mugo\n2026-10-09 graft K26.1\n')).toEqual([]);
  });

  test('grafts on a tree move with it, till they are severed', () => {
    expectLogFindings(`
place yard
place frame
tree T3  Pinus mugo  in yard
batch K26  Pinus mugo  approach
2027-04-01  graft K26.1,2  onto T3
2027-05-01  move K26  to frame
#                ^^^ error contradiction: K26.1,2 stand on \`T3\` and can’t move without it: \`move T3\`, or \`sever\` first.
2028-04-01  sever K26.1
2028-04-02  move K26.1  to frame
`);
  });

  test('lines on the place reach what stood there, and only while it did', () => {
    const [one, two] = cohorts(
      `${trees}2026-10-08 reading frame min 1C\n2026-10-09 graft K26.1..4\n2026-11-01 reading frame min 2C\n2027-01-10 fail K26.1 dried\n2027-02-01 reading frame min 3C\n2027-04-01 move K26 to yard\n2027-04-02 reading frame min 4C\n2027-04-03 reading yard min 5C\n`,
    );
    const seen = (cohort: typeof one) =>
      cohort?.visits.map(({ verb, via, day }) => `${isoDay(day).slice(5)} ${verb}${via === 'set' ? '' : ` ${via}`}`);
    expect(seen(one)).toEqual(['10-09 graft', '11-01 reading place', '01-10 fail']);
    expect(seen(two)).toEqual([
      '10-09 graft',
      '11-01 reading place',
      '02-01 reading place',
      '04-01 move',
      '04-03 reading place',
    ]);
  });
});

describe('trees', () => {
  test('what is done to a tree is done to the grafts on it; a lost tree’s grafts are lost with cause stock', () => {
    const text =
      'place yard\ntree T3 Pinus mugo in yard\nbatch K26 Pinus mugo\n2026-10-09 graft K26.1,2 onto T3\n2027-04-01 fail K26.2 dried\n2027-05-01 check T3 green\n2027-06-01 fail T3\n';
    const [one, two] = cohorts(text);
    expect(one?.fail?.cause).toBe('stock');
    expect(two?.fail?.cause).toBe('dried');
    expect(one?.visits.map(({ verb, via }) => `${verb} ${via}`)).toEqual(['graft set', 'check tree', 'fail tree']);
  });

  test('grafting onto a lost or sold tree; before that it is silent', () => {
    expectLogFindings(`
place yard
tree T3  Pinus mugo  in yard
batch K26  Pinus mugo
2026-10-09  graft K26.1  onto T3
2027-03-01  sell T3
2027-03-02  graft K26.2  onto T3
#                        ^^^^^^^ error after-end: \`T3\` was sold on 1 Mar: nothing is grafted onto it after that.
`);
    expect(
      cohortsText(
        logOf(
          'place yard\ntree T3 Pinus mugo in yard\nbatch K26 Pinus mugo\n2026-10-09 graft K26.1 onto T3\n2027-03-01 sell T3\n',
        ).history('k26'),
      ),
    ).toEqual(['K26.1 sold']);
  });
});

test('undated graft lines: nothing is held against lines on their grafts', () => {
  expect(
    findingsText(
      logOf('batch K26 Pinus mugo\n2026-02-30\ngraft K26.1..4\n2027-03-20 swell K26.1..4\n2027-03-20 swell K26.9\n'),
    ),
  ).toEqual(['2 error bad-date', '5 error unknown-graft']);
});
