import { describe, expect, test } from 'vitest';
import { isoDay } from '#grammar/values/date.ts';
import { graftSeasons } from '#server/engine/figures/graft-season.ts';
import { answerSentence, lostMostSentence, openingText } from '#server/engine/figures/words-season.ts';
import { seasonReport } from '#server/engine/season-report.ts';
import { recordOf } from '../../support/figures.ts';
import { logOf } from '../../support/log.ts';
import { answersOf } from '../../support/weather.ts';

const plain = (text: string) => text.replaceAll('\u00A0', ' ');
const reportOf = (text: string, on: string) => seasonReport(answersOf(logOf(text, on).log, on));
const head = `place frame frost-free shade wind-break
batch K26 Pinus parviflora / Pinus thunbergii side-veneer film 38mm in frame
2026-10-09 graft K26.1..20
2027-03-20 swell K26
`;

describe('seasons', () => {
  const seasons = (lat: string, ...days: string[]) => {
    const text = `site Home lat ${lat} lon 8\n${days.map((day, i) => `batch B${i} Pinus parviflora / Pinus thunbergii side-veneer\n${day} graft B${i}.1..3`).join('\n')}`;
    const { pieces, env } = recordOf(text, '2029-01-01');
    return graftSeasons(pieces, env).map(({ name, from, to, group }) => [
      name,
      isoDay(from),
      isoDay(to),
      group.grafted,
    ]);
  };

  test('an autumn and the spring after it are one, the newest first', () => {
    expect(seasons('47.9', '2026-07-01', '2026-10-09', '2027-03-20', '2027-08-01')).toEqual([
      ['2027/28', '2027-07-01', '2028-06-30', 3],
      ['2026/27', '2026-07-01', '2027-06-30', 9],
    ]);
  });

  test('south of the equator it is the year', () => {
    expect(seasons('-41.3', '2026-12-31', '2027-04-20', '2027-09-01')).toEqual([
      ['2027', '2027-01-01', '2027-12-31', 6],
      ['2026', '2026-01-01', '2026-12-31', 3],
    ]);
  });
});

describe('openings', () => {
  test('sets opened alike are one, step by step; wrapped again is 0; the lost are left out', () => {
    const { openings } = reportOf(
      `${head}2027-03-24 open K26 10%
2027-04-04 open K26.1..12 20%
2027-04-05 fail K26.20 dried
2027-04-06 rewrap K26.13..19`,
      '2027-04-10',
    );
    expect(
      openings.map(({ grafts, count, place, steps }) => [grafts, count, place, steps.map(({ share }) => share)]),
    ).toEqual([
      ['K26.1..12', 12, 'frame', [0.1, 0.2]],
      ['K26.13..19', 7, 'frame', [0.1, 0]],
    ]);
  });

  test('a step that was counted is none, as nobody knows whose; one that would shrink the wrap is none', () => {
    const { openings } = reportOf(
      `${head}2027-03-24 open K26 20%\n2027-03-30 open K26 x5 30%\n2027-04-02 open K26 10%`,
      '2027-04-03',
    );
    expect(openings.map(({ steps }) => steps.map(({ share }) => share))).toEqual([[0.2]]);
  });

  test('in words: how far, what is next, how late', () => {
    const told = (more: string, on: string) => {
      const { openings, day } = reportOf(`${head}2027-03-24 open K26 10%\n${more}`, on);
      return openings.map((opening) => plain(openingText(opening, day)));
    };
    expect(told('', '2027-03-25')).toEqual([expect.stringMatching(/^10 % since 24 Mar; next to 15–20 %, \d/)]);
    expect(told('', '2027-05-25')).toEqual([expect.stringMatching(/^10 % since 24 Mar; .* \d+ days late$/)]);
    expect(told('2027-04-20 free K26', '2027-04-25')).toEqual(['free 20 Apr']);
  });
});

describe('the answer, and when there is none', () => {
  const answer = (lines: string, on = '2027-07-01') => {
    const { seasons } = reportOf(`${head}${lines}`, on);
    return seasons[0] ? plain(answerSentence(seasons[0].group)) : '';
  };

  test('a rate with its range; so far, while over a fifth is to judge', () => {
    expect(answer('2027-06-01 take K26.1..15\n2027-06-01 fail K26.16..20 dried')).toBe(
      '75 % took: 15 of the 20 grafts judged. Likely between 53 and 89 %.',
    );
    expect(answer('2027-06-01 take K26.1..10\n2027-06-01 fail K26.16..20 dried')).toBe(
      '67 % took so far: 10 of the 15 grafts judged. Likely between 42 and 85 %. 5 are still to judge.',
    );
  });

  test('no rate from less than half, and none from four', () => {
    expect(answer('2027-06-01 fail K26.20 dried')).toBe(
      'Not judged yet: of 20 grafts 0 are taken, 1 lost. Between 0 and 95 % will have taken in the end.',
    );
    expect(answer('')).toBe('Not judged yet: 20 grafts, all of them to judge.');
  });

  test('what most were lost to', () => {
    const lost = (lines: string) => {
      const { all } = reportOf(`${head}${lines}`, '2027-07-01');
      return all ? lostMostSentence(all) : '';
    };
    expect(lost('')).toBe('Nothing was lost.');
    expect(lost('2027-06-01 fail K26.20 dried')).toBe('Dried: the one that was lost.');
    expect(lost('2027-06-01 fail K26.17..18 dried\n2027-06-01 fail K26.20')).toBe(
      'Dried: 2 of the 3 lost. For 1 no cause is noted.',
    );
    expect(lost('2027-06-01 fail K26.20')).toBe('1 graft lost, and no cause noted.');
  });
});
