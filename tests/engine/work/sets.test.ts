import { describe, expect, test } from 'vitest';
import { linesOf, overdueIn, workIn, workLines } from '../../support/work.ts';

/* Which grafts a piece of work is for, how many of them live, and on which line it stands. */

const head = `
site    Drumlin-Lane  lat 47.90
place   frame   frost-free shade wind-break
place   tunnel  frost-free shade wind-break
tree    T3  Pinus thunbergii  in frame
batch   K26  Pinus parviflora / P. thunbergii  side-veneer  film 38mm  in frame
`;

describe('like pieces are one', () => {
  const log = `${head}
2026-10-09  graft   K26.1..10  by mk
2026-10-09  graft   K26.11..20  by jo
2027-03-22  swell   K26
2027-03-24  open    K26.1..10 10%
2027-03-24  open    K26.11..20 10%
`;
  test('sets together, the latest line, hands that differ not told', () => {
    const [open] = workIn(log, '2027-04-05');
    expect([open?.what, open?.grafts, open?.count, open?.hand]).toEqual(['open', 'K26.1..20', 20, null]);
    expect(linesOf(log, '2027-04-05')).toEqual(['K26.1..20 open 11']);
    expect(overdueIn(log, '2027-04-10')).toEqual([
      '11 information K26.1..20: a step was due by 7 Apr, 3 days ago; one step only, to 15–20 %.',
    ]);
  });

  test('not those of another window, share or place', () => {
    const more = `${log}2027-03-25  open K26.5 10%\n2027-03-24  move K26.1,2 to tunnel\n`.replace(
      'K26.11..20 10%',
      'K26.11..20 5%',
    );
    expect(workLines(more, '2027-04-05')).toEqual([
      'K26.1,2 open 2027-04-03..2027-04-07 due to 15..20 %',
      'K26.3,4,6..10 open 2027-04-03..2027-04-07 due to 15..20 %',
      'K26.11..20 open 2027-04-03..2027-04-07 due to 10..15 %',
      'K26.5 open 2027-04-04..2027-04-08 due to 15..20 %',
    ]);
    expect(workIn(more, '2027-04-05').map(({ place }) => place)).toEqual(['tunnel', 'frame', 'frame', 'frame']);
  });

  test('one hand is told as it is written', () => {
    const one = log.replace('by jo', 'by mk').replaceAll('by mk', "by O'Brien");
    expect(workIn(one, '2027-04-05')[0]?.hand).toBe("O'Brien");
    expect(workIn(log.replaceAll(/ {2}by \w+/g, ''), '2027-04-05')[0]?.hand).toBeNull();
  });

  test('a line on the tree names what stands on it, one on the place does not', () => {
    const onTree = log.replace(/in frame\n\n/, 'onto T3\n\n');
    expect(linesOf(`${onTree}2027-03-26  water T3\n`, '2027-04-05')).toEqual(['K26.1..20 open 12']);
    expect(linesOf(`${onTree}2027-03-26  water frame\n`, '2027-04-05')).toEqual(['K26.1..20 open 11']);
  });
});

describe('the living', () => {
  const counted = `${head}
2026-10-09  graft   K26 x40
2027-03-22  swell   K26
`;
  test('of unnamed grafts the batch, less what was counted as lost or sold', () => {
    expect(workLines(counted, '2027-03-23')).toEqual(['K26 x40 open 2027-03-22..2027-03-29 due to 5..10 %']);
    expect(workLines(`${counted}2027-03-23  fail K26 x4 dried\n2027-03-23  fail K26 x2\n`, '2027-03-23')).toEqual([
      'K26 x34 open 2027-03-22..2027-03-29 due to 5..10 %',
    ]);
    expect(workLines(`${counted}2027-03-23  fail K26 x40 dried\n`, '2027-03-23')).toEqual([]);
  });

  test('of a tray within a batch, taken off the set that holds all of it', () => {
    const log = `${head}
2026-10-09  graft   K26.1..40
2027-02-01  fail    K26.1..10 x4 rotted
2027-03-22  swell   K26
2027-03-24  open    K26.1..20 5%
`;
    expect(workIn(log, '2027-03-25').map(({ grafts, count }) => [grafts, count])).toEqual([
      ['K26.21..40', 20],
      ['K26.1..20', 16],
    ]);
  });

  test('a count of work on some of the set: none that needs to know which, till the rest is named', () => {
    const log = `${counted}2027-03-24  open K26 x10 10%\n`;
    expect(workLines(log, '2027-04-05')).toEqual([]);
    expect(workLines(`${log}2027-03-25  open K26 10%\n`, '2027-04-05')).toEqual([
      'K26 x40 open 2027-04-04..2027-04-08 due to 15..20 %',
    ]);
    const unswollen = `${head}\n2026-10-09  graft K26 x40\n2027-03-22  swell K26 x10\n`;
    expect(workLines(unswollen, '2027-03-23')).toEqual(['K26 x40 look 2027-04-19..2027-05-03 later']);
  });

  test('takes that were counted, once all are judged', () => {
    const free = `${counted}2027-05-20  free K26\n2027-07-05  take K26 x30\n`;
    expect(workLines(free, '2027-07-06')).toEqual([]);
    const judged = workIn(`${free}2027-07-06  fail K26 rest\n`, '2027-07-07');
    expect(judged.map(({ what, count }) => [what, count])).toEqual([
      ['headback', 30],
      ['tie', 30],
      ['untie', 30],
      ['again', 30],
    ]);
  });
});

describe('told as late', () => {
  const late = `${head}
2026-10-09  graft   K26.1..20
2027-03-22  swell   K26
2027-03-24  open    K26 10%
`;
  test('not where it was accepted, on the line, for a set, or for the log', () => {
    expect(overdueIn(late, '2027-05-01')).toHaveLength(1);
    expect(overdueIn(`${late}accept overdue\n`, '2027-05-01')).toEqual([]);
    expect(overdueIn(late.replace('10%', '10%  accept overdue'), '2027-05-01')).toEqual([]);
    expect(overdueIn(`${late}accept overdue frame\n`, '2027-05-01')).toEqual([]);
    expect(overdueIn(`${late}accept overdue K26.1..5\n`, '2027-05-01')).toEqual([
      '9 information K26.6..20: a step was due by 7 Apr, 24 days ago; one step only, to 15–20 %.',
    ]);
  });

  test('what the nursery says can’t wait is told, too', () => {
    const urgent = `${late}practice needle work take after free wait 28..60d urgent\n2027-04-01  free K26\n`;
    expect(overdueIn(urgent, '2027-06-02')).toEqual([
      '11 information K26.1..20: `take` was due by 31 May, 2 days ago; free since 1 Apr, own growth, and firm?',
    ]);
  });
});

describe('work after any event a line of the nursery names', () => {
  const log = (line: string, ...more: string[]) => `${head}${line}
2026-10-09  graft   K26.1..20
${more.join('\n')}
`;
  test('due in its window till it was done', () => {
    const treated = log(
      'practice any work look after treat wait 3..5d',
      '2027-03-22  swell K26',
      '2027-04-10  treat K26',
      '2027-04-10  free K26',
    );
    expect(workLines(treated, '2027-04-11')).toContain('K26.1..20 look 2027-04-13..2027-04-15 soon');
    expect(workLines(`${treated}2027-04-14  check K26\n`, '2027-04-15').join()).not.toContain('look');
    const callus = log('practice K26 work open after callus wait 0..3d urgent', '2027-02-01  check K26 callus');
    expect(workLines(callus, '2027-02-01')).toContain('K26.1..20 open 2027-02-01..2027-02-04 due to 5..10 %');
    expect(workLines(`${callus}2027-02-02  open K26 5%\n`, '2027-02-02').join()).not.toContain('open');
  });

  test('beside the chain’s own the earlier is next', () => {
    const early = log(
      'practice K26 work untie after first-swell wait 60..90d',
      '2027-03-22  swell K26',
      '2027-07-05  take K26',
    );
    expect(workLines(early, '2027-07-06').filter((line) => line.includes('untie'))).toEqual([
      'K26.1..20 untie 2027-05-21..2027-06-20 overdue',
    ]);
  });
});
