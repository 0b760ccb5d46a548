import { describe, expect, test } from 'vitest';
import { Answers } from '#server/engine/answers.ts';
import { dayOf, logOf } from '../support/log.ts';
import { answersOf, stationText } from '../support/weather.ts';
import { lineOf } from '../support/work.ts';

/* When the buds may be expected, by the nursery's own seasons. Five of them: house default. */

describe('expected swelling', () => {
  /** Every day from March to June gives 5 °C·d over 5 °C; the winter none. */
  const warm = (iso: string): readonly [number, number] => (iso.slice(5) >= '07-01' ? [20, 20] : [10, 10]);
  const steady = (to: string) => stationText('2018-01-01', to, (iso) => (iso.slice(5) >= '03-01' ? warm(iso) : [1, 4]));
  const head = `
site   Drumlin-Lane  lat 47.90  lon 8.10
place  frame  frost-free shade wind-break
place  tent  heated shade wind-break humid
weather "station.csv"
`;
  const season = (
    year: number,
    swell: string,
    more = '',
  ) => `batch  K${year}  Pinus parviflora / P. thunbergii  side-veneer  film  in frame
${year}-10-10  graft  K${year}.1..10
${year + 1}-${swell}  swell  K${year}.1..10
${more}`;
  // swelled after 10, 12, 20, 15, 11 days of 5 °C·d
  const swells = ['03-10', '03-12', '03-20', '03-15', '03-11'];
  const seasons = (count: number) =>
    swells
      .slice(0, count)
      .map((swell, i) => season(2019 + i, swell))
      .join('');
  const waiting =
    'batch  W24  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame\n2024-10-10  graft  W24.1..10\n';
  const watch = (text: string, on: string, csv = steady(on)) => {
    const items = answersOf(logOf(`${head}${text}`).log, on, { 'station.csv': csv })
      .work()
      .filter(({ what, batch }) => what === 'watch' && batch.name === 'W24');
    return items.map((item) => `${lineOf(item)}: ${item.why.replaceAll('\u00A0', ' ')}`);
  };

  test('from five seasons of the pair on: the days on which the season’s warmth reaches what it swelled at', () => {
    expect(watch(`${seasons(5)}${waiting}`, '2025-01-31')).toEqual([
      'W24.1..10 watch 2025-03-10..2025-03-20 later: grafted 10 Oct 2024: in 5 seasons on record this pair swelled at 50–100 °C·d',
    ]);
  });

  test('a late spring puts it off, as far as the station has read it', () => {
    // nothing over 5 °C till 20 March 2025; from there on as other years were
    const lateSpring = stationText('2018-01-01', '2025-03-20', (iso) =>
      iso.slice(5) >= '03-01' && iso < '2025-01-01' ? warm(iso) : [1, 4],
    );
    expect(watch(`${seasons(5)}${waiting}`, '2025-03-20', lateSpring)).toEqual([
      'W24.1..10 watch 2025-03-30..2025-04-09 later: grafted 10 Oct 2024: in 5 seasons on record this pair swelled at 50–100 °C·d',
    ]);
  });

  test('with four the calendar holds, and says so', () => {
    expect(watch(`${seasons(4)}${waiting}`, '2025-01-31')).toEqual([
      'W24.1..10 watch 2025-03-01..2025-05-15 later: grafted 10 Oct 2024: by the calendar, 4 of 5 seasons of this pair on record',
    ]);
  });

  test('what was heated, made in spring, of another pair, or not seen swelling is no season', () => {
    const heated = season(2023, '03-11', '2023-12-01  move  K2023  to tent\n');
    const spring = `batch  K2023  Pinus parviflora / P. thunbergii  side-veneer  film  in frame\n2024-02-20  graft  K2023.1\n2024-03-11  swell  K2023\n`;
    const other = season(2023, '03-11').replace('P. thunbergii', 'P. strobus');
    const unseen = season(2023, '05-11').replace('swell', 'free');
    for (const text of [heated, spring.replace('02-20', '03-02'), other, unseen])
      expect(watch(`${seasons(4)}${text}${waiting}`, '2025-01-31')[0]).toContain('4 of 5 seasons');
    // winter grafts count
    expect(watch(`${seasons(4)}${spring}${waiting}`, '2025-01-31')[0]).toContain('in 5 seasons');
  });

  test('a nursery’s own line stands as it is, and so does the heated tent', () => {
    const own = 'practice  Pinus  made autumn,winter  work watch  after graft  wait apr-01..apr-30\n';
    expect(watch(`${own}${seasons(5)}${waiting}`, '2025-01-31')).toEqual([
      'W24.1..10 watch 2025-04-01..2025-04-30 later: grafted 10 Oct 2024: time for the buds to swell',
    ]);
    expect(watch(`${seasons(5)}${waiting.replace('in frame', 'in tent')}`, '2025-01-31')).toEqual([
      'W24.1..10 watch 2024-11-14..2024-12-24 overdue: grafted 10 Oct 2024: time for the buds to swell',
    ]);
  });

  test('another base is another clock', () => {
    const own = 'practice  any  degree-base 8C\n';
    expect(watch(`${own}${seasons(5)}${waiting}`, '2025-01-31')[0]).toContain('swelled at 20–40 °C·d');
  });

  test('without a station there is nothing to say of seasons', () => {
    const { log } = logOf(`${head}${seasons(5)}${waiting}`);
    const item = new Answers(log, dayOf('2025-01-31')).work().find(({ what }) => what === 'watch');
    expect(item?.why).toBe('grafted 10 Oct 2024: time for the buds to swell');
  });

  test('in the south warmth counts from July', () => {
    const southern = stationText('2018-01-01', '2025-08-15', (iso) =>
      /-(09|10|11)-/.test(iso) ? [10, 10] : /-(12|01|02)-/.test(iso) ? [20, 20] : [1, 4],
    );
    const text = [2019, 2020, 2021, 2022, 2023, 2024]
      .map(
        (year) =>
          `batch  K${year}  Pinus parviflora / P. thunbergii  side-veneer  film  in frame\n${year}-05-10  graft  K${year}.1..10\n${year < 2024 ? `${year}-09-1${year - 2019}  swell  K${year}.1..10\n` : ''}`,
      )
      .join('');
    const { log } = logOf(
      `${head.replace('lat 47.90', 'lat -43.50')}${text.replaceAll('K2024', 'W24').replaceAll('2024-05-10', '2025-05-10')}`,
    );
    const items = answersOf(log, '2025-08-15', { 'station.csv': southern })
      .work()
      .filter(({ what, batch }) => what === 'watch' && batch.name === 'W24');
    expect(items.map(lineOf)).toEqual(['W24.1..10 watch 2025-09-10..2025-09-14 later']);
  });
});
