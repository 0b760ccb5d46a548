import { describe, expect, test } from 'vitest';
import { isoDay } from '#grammar/values/date.ts';
import { cohortsText, expectLogFindings, findingsText, logOf } from '../support/log.ts';

const daysOf = (text: string): string[] =>
  logOf(text)
    .log.document('log.graft')
    ?.entries.filter(({ line }) => line.statement)
    .map(
      ({ day, minute }) =>
        `${day === undefined ? '-' : isoDay(day)} ${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`,
    ) ?? [];

describe('a day line holds down to the next', () => {
  test('a date on a statement holds for that line only and leaves the carried date alone', () => {
    expect(daysOf('2026-10-09\ncheck "a"\n2026-10-20 check "b"\ncheck "c"\n2026-11-01\ncheck "d"\n')).toEqual([
      '2026-10-09 00:00',
      '2026-10-20 00:00',
      '2026-10-09 00:00',
      '2026-11-01 00:00',
    ]);
  });

  test('an untimed line has the time of the timed line above it in its day', () => {
    expect(
      daysOf(
        '2026-10-09\ncheck "a"\n14:30 check "b"\ncheck "c"\n2026-10-20 08:00 check "d"\n2026-10-20 check "e"\n2026-10-21 check "f"\ncheck "g"\n',
      ),
    ).toEqual([
      '2026-10-09 00:00',
      '2026-10-09 14:30',
      '2026-10-09 14:30',
      '2026-10-20 08:00',
      '2026-10-20 08:00',
      '2026-10-21 00:00',
      '2026-10-09 14:30',
    ]);
  });

  test('a date and a time alone, or a time alone, is a day line, too', () => {
    expect(daysOf('2026-10-09 08:15\ncheck "a"\n16:00  # after lunch\ncheck "b"\n')).toEqual([
      '2026-10-09 08:15',
      '2026-10-09 16:00',
    ]);
  });

  test.each(['2026-10-09:', '2026-10-09,', '2026-10-09 ;  # mild', '\uFEFF2026-10-09:'])('%j is one', (written) => {
    expect(daysOf(`${written}\ncheck "a"\n`)).toEqual(['2026-10-09 00:00']);
  });
});

describe('work without a day', () => {
  test('is told on its verb; declarations need none', () => {
    expectLogFindings(`
place frame
batch K26  Pinus mugo
check "a remark"
#^^^^ error no-date: \`check\` has no day: begin the line with one, \`2026-10-09 check …\`, or put it on a line of its own above.
2026-10-09
check "another"
`);
  });

  test('under a day line that can’t be read lines take no part and are not reported', () => {
    const text = `
batch K26  Pinus mugo
2026-02-30
#^^^^^^^^^ error bad-date
graft K26.1..4  in nowhere
2027-03-20  swell K26.1..4
`;
    expectLogFindings(text);
    expect(logOf('batch K26  Pinus mugo\n2026-02-30\ngraft K26.1..4\n').history('k26').cohorts).toEqual([]);
  });

  test('a day line over 300 days before the one above it asks for the year', () => {
    expectLogFindings(
      `
2026-12-28
2026-03-03
#^^^^^^^^^ warning bad-date: 2026-03-03 is 300 days before the day line above it, 2026-12-28: last year’s number?
`
        .replace('2026-03-03', '2026-03-02')
        .replace('2026-03-03 is 300', '2026-03-02 is 301'),
    );
    expect(findingsText(logOf('2026-12-28\n2026-03-03\n'))).toEqual([]);
    // dated lines between them don't count
    expect(findingsText(logOf('2026-12-28\n2027-02-01 check "x"\n2026-12-30\n'))).toEqual([]);
  });
});

describe('days to come', () => {
  const log = `
batch K26  Pinus mugo  lot L8
2026-10-09  graft K26.1..4
2027-01-04  collect L8  Pinus mugo
#^^^^^^^^^ warning future-date: This day is still to come: till then the line takes no part, but its lot has its name.
2027-03-20
swell K26
#^^^^ warning future-date: This day is still to come: till then the line takes no part.
fail  K26.4
#^^^ warning future-date: This day is still to come: till then the line takes no part.
`;
  test('one warning on each line left out; a lot collected later is still declared', () => {
    expectLogFindings(log, '2026-12-31');
  });

  test('and on the day itself the line takes part', () => {
    const view = logOf('batch K26  Pinus mugo\n2026-10-09  graft K26.1..4\n2027-03-20  swell K26.1\n', '2027-03-20');
    expect(findingsText(view)).toEqual([]);
    expect(cohortsText(view.history('k26'))).toEqual(['K26.1 swelling', 'K26.2..4 made']);
  });
});
