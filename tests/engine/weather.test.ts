import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Answers } from '#server/engine/answers.ts';
import type { Finding } from '#server/engine/model.ts';
import { weatherPath } from '#server/engine/weather-path.ts';
import { dayOf, logOf } from '../support/log.ts';
import { vegaData } from '../support/tables.ts';
import { answersOf, type Files, mild, stationText } from '../support/weather.ts';

/* What stations say in a log, from the CSV's text to findings and work. */

/** `7 warning froze A26.1: −3 °C in …`, with plain blanks. */
const said = (answers: Answers, { code, severity, entry, grafts, message }: Finding): string =>
  `${(answers.log.document(entry.file)?.lineOf(entry) ?? -1) + 1} ${severity} ${[code, ...(grafts ? [grafts] : [])].join(' ')}: ${message.replaceAll('\u00A0', ' ')}`;

function findings(text: string, on: string, files: Files, only: readonly string[] = ['froze', 'unreadable']): string[] {
  const answers = answersOf(logOf(text).log, on, files);
  return answers
    .findings()
    .filter(({ code }) => only.includes(code))
    .map((finding) => said(answers, finding));
}

const nursery = `
site   Drumlin-Lane  lat 47.90  lon 8.10
place  frame  frost-free shade wind-break
place  yard
place  shed  shade wind-break
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film
2026-10-10  graft  A26.1..4  in yard
2026-10-10  graft  A26.5..8  in frame
2026-10-10  graft  A26.9  in shed
`;
const cold = mild('2026-10-01', '2026-12-31', { '2026-11-05': -2, '2026-11-20': -3.1, '2026-12-20': -6 });

describe('frost nights of a station', () => {
  test('count where nothing keeps them off; the coldest of the first nights of each spell is told, with the file', () => {
    const text = `${nursery}weather "station.csv"  in yard\n`;
    expect(findings(text, '2026-12-01', { 'station.csv': cold })).toEqual([
      '6 warning froze A26.1..4: −3.1 °C in `yard` on 20 Nov by the station: A26.1..4 are in doubt, a tender union dies of frost.',
    ]);
    const answers = answersOf(logOf(text).log, '2026-12-01', { 'station.csv': cold });
    const froze = answers.findings().find(({ code }) => code === 'froze');
    expect(froze?.related?.map(({ message }) => message)).toEqual([
      'Grafted here, and not taken yet.',
      'By `station.csv`, taken as it is.',
    ]);
  });

  test('a night after the day computed for is not known yet', () => {
    const text = `${nursery}weather "station.csv"  in yard\n`;
    expect(findings(text, '2026-11-04', { 'station.csv': cold })).toEqual([]);
  });

  test('the line’s own offset holds, and for the whole nursery where it names no place', () => {
    expect(
      findings(`${nursery}weather "station.csv"  in yard  offset 4C\n`, '2026-12-01', { 'station.csv': cold }),
    ).toEqual([]);
    expect(findings(`${nursery}weather "station.csv"  offset -4C\n`, '2026-12-01', { 'station.csv': cold })).toEqual([
      '6 warning froze A26.1..4: −7.1 °C in `yard` on 20 Nov by the station − 4 °C: A26.1..4 are in doubt, a tender union dies of frost.',
      '8 warning froze A26.9: −7.1 °C in `shed` on 20 Nov by the station − 4 °C: A26.9 is in doubt, a tender union dies of frost.',
    ]);
  });

  test('an offset in °F is a difference, not a reading', () => {
    const text = `${nursery}weather "station.csv"  in yard  offset 5F\n`;
    // 5 °F are 2.8 °C: −3.1 is −0.3
    expect(findings(text, '2026-12-01', { 'station.csv': cold })).toEqual([
      '6 warning froze A26.1..4: −0.3 °C in `yard` on 20 Nov by the station + 2.8 °C: A26.1..4 are in doubt, a tender union dies of frost.',
    ]);
  });

  test('where nobody read and the line says nothing, nothing is claimed', () => {
    expect(findings(`${nursery}weather "station.csv"\n`, '2026-12-01', { 'station.csv': cold })).toEqual([]);
  });

  test('days with both tell how much warmer a place is: the median, with the number of days', () => {
    // 1.4, 1.5 and 5.8 °C warmer than the station's 2 °C
    const readings = ['2026-10-20', '2026-10-21', '2026-10-22']
      .map((day, i) => `${day}  reading  shed  min ${[3.4, 3.5, 7.8][i]}C\n`)
      .join('');
    const text = `${nursery}weather "station.csv"\n${readings}`;
    expect(findings(text, '2026-12-01', { 'station.csv': cold })).toEqual([
      '8 warning froze A26.9: −1.6 °C in `shed` on 20 Nov by the station + 1.5 °C (learned on 3 days): A26.9 is in doubt, a tender union dies of frost.',
    ]);
    const answers = answersOf(logOf(text).log, '2026-12-01', { 'station.csv': cold });
    expect(
      answers.env.weather?.told('shed', 'min', dayOf('2026-11-20'))?.related.message.replaceAll('\u00A0', ' '),
    ).toBe('By `station.csv`, 1.5 °C warmer here: the median of 3 days with both.');
    // one night read alone
    expect(findings(text.split('2026-10-21')[0] ?? '', '2026-12-01', { 'station.csv': cold })).toEqual([]);
  });

  test('what was learned under cover says nothing of a bare night', () => {
    // 6 °C warmer than the station in October, under its lids
    const readings = ['2026-10-20', '2026-10-21', '2026-10-22']
      .map((day) => `${day}  reading  frame  min 8C\n`)
      .join('');
    const bare = `${nursery}${readings}2026-11-01  uncover  frame\n`;
    const froze =
      '7 warning froze A26.5..8: −3.1 °C in `frame` on 20 Nov by the station: A26.5..8 are in doubt, a tender union dies of frost.';
    expect(findings(`${bare}weather "station.csv"\n`, '2026-12-01', { 'station.csv': cold })).toEqual([]);
    expect(findings(`${bare}weather "station.csv"  in frame\n`, '2026-12-01', { 'station.csv': cold })).toEqual([
      froze,
    ]);
    // read while it stood bare, it counts
    const since = ['2026-11-02', '2026-11-03', '2026-11-04'].map((day) => `${day}  reading  frame  min 3C\n`).join('');
    expect(findings(`${bare}${since}weather "station.csv"\n`, '2026-12-01', { 'station.csv': cold })).toEqual([
      froze.replace('−3.1', '−2.1').replace('the station:', 'the station + 1 °C (learned on 3 days):'),
    ]);
  });

  test('a place’s own reading stands over the station’s night', () => {
    const text = `${nursery}weather "station.csv"  in yard\n2026-11-05  reading  yard  min 1C\n2026-11-20  reading  yard  min 0.5C\n`;
    expect(findings(text, '2026-12-01', { 'station.csv': cold })).toEqual([]);
  });

  test('files follow each other, a year in each', () => {
    const text = `${nursery}weather "2026.csv"  in yard\nweather "2027.csv"  in yard\n`;
    const files = {
      '2026.csv': mild('2026-01-01', '2026-12-31'),
      '2027.csv': mild('2027-01-01', '2027-03-31', { '2027-01-15': -4 }),
    };
    expect(findings(text, '2027-03-01', files)).toEqual([
      '6 warning froze A26.1..4: −4 °C in `yard` on 15 Jan by the station: A26.1..4 are in doubt, a tender union dies of frost.',
    ]);
  });
});

test('whatever a station says, nothing is said of grafts that stand covered, have taken, or aren’t there yet', () => {
  const healthy = `
site   Drumlin-Lane  lat 47.90  lon 8.10
place  frame  frost-free shade wind-break
place  yard   shade wind-break
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
2026-10-10  graft  A26.1..8
2027-03-20  swell  A26
2027-05-20  free   A26
2027-07-05  take   A26
2027-07-06  move   A26  to yard
2027-11-01  untie  A26
2027-10-10  graft  A26.9..12
`;
  const line = fc.constantFrom('', '  in frame', '  in yard', '  offset -8C', '  in frame  offset 5F');
  fc.assert(
    fc.property(line, fc.integer({ min: 15, max: 40 }), fc.integer({ min: 1, max: 50 }), (how, warm, swing) => {
      const csv = stationText('2026-01-01', '2028-01-31', (_, day) => [
        warm - swing - ((day * 7) % 9),
        warm + ((day * 5) % 9),
      ]);
      for (const on of ['2027-02-01', '2027-08-01', '2028-01-20'])
        expect(
          findings(`${healthy}weather "station.csv"${how}\n`, on, { 'station.csv': csv }, [
            ...['froze', 'too-hot', 'frost-cover-missing', 'unreadable'],
          ]),
        ).toEqual([]);
    }),
    { numRuns: 25 },
  );
});

describe('heat of a station', () => {
  const hot = stationText('2027-03-01', '2027-08-31', (iso) => [8, iso === '2027-05-11' ? 33.5 : 24]);
  const wrapped = nursery.replaceAll('2026-10-10', '2027-04-10');
  test('under film out of doors; a roof may be cooler or hotter', () => {
    expect(
      findings(`${wrapped}weather "station.csv"  offset 0C\n`, '2027-08-01', { 'station.csv': hot }, ['too-hot']),
    ).toEqual([
      '6 warning too-hot A26.1..4: 33.5 °C on 11 May by the station, more under the wrap: vent and shade.',
      '8 warning too-hot A26.9: 33.5 °C on 11 May by the station, more under the wrap: vent and shade.',
    ]);
    expect(
      findings(`${wrapped}weather "station.csv"  offset -2C\n`, '2027-08-01', { 'station.csv': hot }, ['too-hot']),
    ).toEqual([]);
  });
  test('free of the wrap it is no more asked; the day’s own reading stands over it', () => {
    const text = `${wrapped}weather "station.csv"  offset 0C\n2027-05-01  free  A26\n`;
    expect(findings(text, '2027-08-01', { 'station.csv': hot }, ['too-hot'])).toEqual([]);
    const read = `${wrapped}weather "station.csv"  in yard\n2027-05-11  reading  yard  max 29C\n`;
    expect(findings(read, '2027-08-01', { 'station.csv': hot }, ['too-hot'])).toEqual([]);
  });
});

describe('frost dates of a station', () => {
  const text = `${nursery}2027-04-10  move  A26.5..8  to lath\nplace  lath  shade wind-break\nweather "station.csv"\n`;
  const moved = (files: Files) =>
    findings(text, '2027-05-01', files, ['frost-cover-missing']).map((one) => one.split(':')[0]);
  /** Ten springs whose last frost is 2 to 20 March. */
  const tenYears = Object.fromEntries(
    Array.from({ length: 10 }, (_, i) => [`${2017 + i}-03-${String(2 + 2 * i).padStart(2, '0')}`, -1]),
  );

  test('from ten years on they stand over the calendar: frost is past in April', () => {
    expect(moved({ 'station.csv': mild('2017-01-01', '2026-12-31', tenYears) })).toEqual([
      '6 warning frost-cover-missing A26.1..4',
      '8 warning frost-cover-missing A26.9',
    ]);
  });
  test('nine are too few: the calendar holds, 15 May', () => {
    expect(moved({ 'station.csv': mild('2018-01-01', '2026-12-31', tenYears) })).toEqual([
      '6 warning frost-cover-missing A26.1..4',
      '8 warning frost-cover-missing A26.9',
      '9 warning frost-cover-missing A26.5..8',
    ]);
  });
  test('ten years without a frost night: no cover is asked for', () => {
    expect(moved({ 'station.csv': mild('2017-01-01', '2026-12-31') })).toEqual([]);
    // one night is enough
    expect(moved({ 'station.csv': mild('2017-01-01', '2026-12-31', { '2020-01-10': -0.1 }) }).length).toBe(2);
  });
});

describe('what a `weather` line’s file has wrong stands on the line', () => {
  const on = (line: string, files: Files) =>
    findings(`site  Drumlin-Lane\nplace  yard\n${line}\n`, '2026-12-01', files);

  test('it isn’t there, or can’t be opened', () => {
    expect(on('weather "station.csv"', {})).toEqual([
      '3 error unreadable: There is no file `station.csv` beside this log.',
    ]);
    expect(on('weather "station.csv"', { 'station.csv': { unread: 'unreadable' } })).toEqual([
      '3 error unreadable: `station.csv` can’t be read: is it a text file, and may it be opened?',
    ]);
    expect(on('weather "station.csv"', { 'station.csv': { unread: 'large' } })).toEqual([
      '3 error unreadable: `station.csv` is too large: at most 64 MB a station and 256 MB a log are read.',
    ]);
  });

  test.each([
    '../station.csv',
    '/etc/passwd',
    'C:\\station.csv',
    'weather/../../station.csv',
    'https://example.org/a.csv',
    '\\\\host\\a.csv',
  ])('a path that leads out of the folder is not read: %s', (path) => {
    const everything = { unread: 'missing' } as const;
    const log = logOf(`weather "${path}"\n`).log;
    const asked: string[] = [];
    const answers = new Answers(log, dayOf('2026-12-01'), (entry) => {
      asked.push(entry.file);
      return everything;
    });
    expect(answers.findings().map(({ code, message }) => `${code} ${message}`)).toEqual([
      `unreadable \`${path}\` lies outside the log’s folder and isn’t read: put the file beside the log.`,
    ]);
    expect(asked).toEqual([]);
  });

  test('paths are from the log file’s own folder, up to the root and no further', () => {
    const path = (file: string, text: string) => {
      const [entry] = logOf({ [file]: `weather "${text}"` }).log.all('weather');
      return entry && weatherPath(entry);
    };
    expect(path('log.graft', 'station.csv')).toBe('station.csv');
    expect(path('2026/log.graft', './station.csv')).toBe('2026/station.csv');
    expect(path('2026/log.graft', '../weather/station.csv')).toBe('weather/station.csv');
    expect(path('2026/log.graft', 'weather\\station.csv')).toBe('2026/weather/station.csv');
    expect(path('2026/log.graft', '../../station.csv')).toBeUndefined();
    expect(path('log.graft', '..')).toBeUndefined();
  });

  test('it isn’t understood: what it has is named', () => {
    expect(on('weather "station.csv"', { 'station.csv': 'Tag;Min;Max\n1.1.2026;-4;3\n' })).toEqual([
      '3 error unreadable: `station.csv` has no columns `DATE` with `TMIN`, `TMAX` or `temp_min`, `temp_max`; it has `Tag`, `Min`, `Max`.',
    ]);
    expect(on('weather "station.csv"', { 'station.csv': 'DATE,TMIN\n2026-01-01,"-4\n2026-01-02,-5\n' })).toEqual([
      '3 error unreadable: `station.csv` has a quote in row 2 that never ends or ends too early.',
    ]);
  });

  test('rows that were left out are counted, the first of them named', () => {
    const rows = 'DATE,TMIN\n2026-01-01,-40\n31.02.2026,-40\n2026-01-03,cold\n2026-01-04,1\n2026-01-05,-4,9\n';
    expect(on('weather "station.csv"  in yard', { 'station.csv': rows })).toEqual([
      '3 information unreadable: 3 rows of `station.csv` are left out: row 3, `31.02.2026` is no date as 2026-10-09 is; row 4, `cold` in `TMIN` is no figure.',
    ]);
  });

  test('a file not read yet, and a log without the files at hand, say nothing', () => {
    const { log } = logOf('weather "station.csv"\n');
    expect(new Answers(log, dayOf('2026-12-01'), () => undefined).findings()).toEqual([]);
    expect(new Answers(log, dayOf('2026-12-01')).findings()).toEqual([]);
  });

  test('a real station’s file is silent', () => {
    expect(on('weather "station.csv"  in yard', { 'station.csv': vegaData('seattle-weather.csv') })).toEqual([]);
  });
});
