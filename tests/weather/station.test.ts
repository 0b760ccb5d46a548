import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { isoDay } from '#grammar/values/date.ts';
import { readStation, type Station } from '#server/weather/station.ts';
import { vegaData } from '../support/tables.ts';

/** `2026-01-01 -4.2 3.1`, one a day; a figure that isn't there is `.`. */
function days(text: string): string[] {
  const station = read(text);
  return station.days.map(({ day, min, max }) => `${isoDay(day)} ${min ?? '.'} ${max ?? '.'}`);
}

function read(text: string): Station {
  const station = readStation(text);
  if ('refused' in station) throw new Error(station.refused);
  return station;
}

const refused = (text: string): string => {
  const station = readStation(text);
  return 'refused' in station ? station.refused : `${station.days.length} days`;
};
const skipped = (text: string): string[] => read(text).skipped.map(({ row, why }) => `${row}: ${why}`);

describe('GHCN-Daily (columns, tenths, -9999 and flags: its readme, from memory)', () => {
  test('a station’s wide file: tenths of a degree, attributes with their quality flag', () => {
    const text = `"STATION","DATE","LATITUDE","LONGITUDE","ELEVATION","NAME","PRCP","PRCP_ATTRIBUTES","TMAX","TMAX_ATTRIBUTES","TMIN","TMIN_ATTRIBUTES"
"XX000000001","2026-01-01","47.9","8.1","410.0","DRUMLIN LANE, XX","    0",",,E","   31",",,E","  -42",",,E"
"XX000000001","2026-01-02","47.9","8.1","410.0","DRUMLIN LANE, XX","    0",",,E","   45",",,E","  -99",",I,E"
"XX000000001","2026-01-03","47.9","8.1","410.0","DRUMLIN LANE, XX","    0",",,E","","","-9999",""
"XX000000001","2026-01-04","47.9","8.1","410.0","DRUMLIN LANE, XX","    0",",,E","",""," -120","H,,E,0700"
`;
    // -99 alone would be -9.9 °C; what failed the station's quality control is left out, what is missing isn't there
    expect(days(text)).toEqual(['2026-01-01 -4.2 3.1', '2026-01-02 . 4.5', '2026-01-04 -12 .']);
    expect(read(text)).toMatchObject({ flagged: 1, skipped: [] });
  });

  test('a plain one', () => {
    expect(days('DATE,TMAX,TMIN\n20260101,31,-42\n20260102,,-5\n')).toEqual([
      '2026-01-01 -4.2 3.1',
      '2026-01-02 -0.5 .',
    ]);
  });
});

describe('degrees', () => {
  test('under `temp_min` and `temp_max`, beside columns that are not read', () => {
    expect(days('date,precipitation,temp_max,temp_min,wind\n2026-01-01,0.4,3.1,-4.2,4.7\n')).toEqual([
      '2026-01-01 -4.2 3.1',
    ]);
  });

  test('semicolons, decimal commas, a byte order mark, CRLF and empty lines', () => {
    expect(days('\uFEFFdate;temp_min;temp_max\r\n2026-01-01;-4,2;3,1\r\n\r\n2026/1/2;\u22120,5;\r\n;;\r\n')).toEqual([
      '2026-01-01 -4.2 3.1',
      '2026-01-02 -0.5 .',
    ]);
  });

  test('missing as programs write it', () => {
    expect(days('date,temp_min,temp_max\n2026-01-01,NA,3\n2026-01-02,-1,NaN\n2026-01-03,-9999.0,\n')).toEqual([
      '2026-01-01 . 3',
      '2026-01-02 -1 .',
    ]);
  });

  test('in any order of days; of a day that stands twice the first row holds', () => {
    const text = 'date,temp_min\n2026-01-03,3\n2026-01-01,1\n2026-01-03,4\n';
    expect(days(text)).toEqual(['2026-01-01 1 .', '2026-01-03 3 .']);
    expect(skipped(text)).toEqual(['4: its day stood there before']);
  });
});

test('rows that make no sense are named and left out, the others are read', () => {
  const text = `date,temp_min,temp_max
2026-01-01,-4,3
2026-02-30,-4,3
09.01.2026,-4,3
2026-01-04,cold,3
2026-01-05,5,3
2026-01-06,-4
2026-01-07,-4,3,7
2026-01-08,-4,3,
2026-01-09,0,300
${Array.from({ length: 28 }, (_, i) => `2026-02-${String(i + 1).padStart(2, '0')},0,5`).join('\n')}
`;
  expect(skipped(text)).toEqual([
    '3: `2026-02-30` is no date as 2026-10-09 is',
    '4: `09.01.2026` is no date as 2026-10-09 is',
    '5: `cold` in `temp_min` is no figure',
    '6: a minimum of 5 over a maximum of 3',
    '7: 2 fields where the header has 3',
    '8: 4 fields where the header has 3',
    '10: 300 °C in `temp_max`, which no thermometer has shown',
  ]);
  expect(read(text).days).toHaveLength(30);
});

describe('what isn’t understood is named and not read', () => {
  test.each([
    ['', 'is empty'],
    ['date,tmax\n', 'has no columns `DATE` with `TMIN`, `TMAX` or `temp_min`, `temp_max`; it has `date`, `tmax`'],
    ['Tag,Tmin,Tmax,Regen\n', 'it has `Tag`, `Tmin`, `Tmax` and 1 more'],
    // lower case tells no unit
    ['date,tmin,tmax\n2026-01-01,-4,3\n', 'it has `date`, `tmin`, `tmax`'],
    ['XX000000001,20260101,TMIN,-42,,,E,\n', 'it has `XX000000001`, `20260101`, `TMIN` and 5 more'],
    ['DATE,TMIN,temp_min\n2026-01-01,-42,-4.2\n', 'which of them are meant?'],
    ['DATE,TMIN,TMIN\n2026-01-01,-42,-4.2\n', 'has two columns `TMIN`'],
    ['DATE,TMIN\n', 'has a header and no figures'],
    ['DATE,TMIN\n1 Jan,-4\n', 'has no row that could be read; row 2: `1 Jan` is no date'],
    // NOAA's order form gives °C with decimals under the same names
    ['DATE,TMIN\n2026-01-01,-4.2\n2026-01-02,-0.5\n', 'has decimals under `TMIN` or `TMAX` (row 2)'],
    ['date,temp_max\n2026-07-01,84\n2026-07-02,88\n2026-07-03,51\n', 'figures no thermometer has shown (row 2)'],
    [
      'STATION,DATE,TMIN\nA,2026-01-01,-42\nB,2026-01-01,-40\n',
      'holds more than one station, `A and B`: one file a station',
    ],
    ['DATE,TMIN\n2026-01-01,"-42\n2026-01-02,-40\n', 'has a quote in row'],
    ['DATE,TMIN\n2026-01-01,"-4"2\n2026-01-02,-40\n', 'has a quote in row'],
  ])('%j', (text, said) => {
    expect(refused(text)).toContain(said);
  });

  test('a year of tenths in which no day reached 13 °C: whole degrees Fahrenheit, perhaps', () => {
    const year = (max: (day: number) => number) =>
      `DATE,TMAX,TMIN\n${Array.from({ length: 365 }, (_, i) => `${isoDay(20454 + i)},${max(i)},${max(i) - 10}`).join('\n')}\n`;
    const warmth = (i: number) => Math.sin((i - 100) / 58);
    expect(refused(year((i) => Math.round(60 + 35 * warmth(i))))).toContain(
      'has no day over 9.5 °C in a year of tenths',
    );
    expect(refused(year((i) => Math.round(110 + 150 * warmth(i))))).toBe('365 days');
  });
});

test('open data: 1,461 days of Seattle, four years without a gap (vega-datasets 3.2.1; NOAA)', () => {
  const { days: found, skipped: left } = read(vegaData('seattle-weather.csv'));
  expect(left).toEqual([]);
  expect(found).toHaveLength(1461);
  expect(found.every(({ day }, i) => day === (found[0]?.day ?? 0) + i)).toBe(true);
  expect(isoDay(found[0]?.day ?? 0)).toBe('2012-01-01');
  const figures = (key: 'min' | 'max') => found.map((day) => day[key] ?? Number.NaN);
  // ranges as the data's own documentation was checked in R
  expect([Math.min(...figures('min')), Math.max(...figures('min'))]).toEqual([-7.1, 18.3]);
  expect([Math.min(...figures('max')), Math.max(...figures('max'))]).toEqual([-1.6, 35.6]);
  // two stations in one file
  expect(refused(vegaData('weather.csv'))).toContain('holds more than one station, `Seattle and New York`');
});

test('any text is read or refused: days rise, figures are figures', () => {
  const cell = fc.oneof(
    fc.constantFrom('2026-01-01', '2026-01-02', '-42', '31', '', '-9999', 'NA', '1,5', '"', '";"', '\n', 'x', '999'),
    fc.integer({ min: -500, max: 500 }).map(String),
    fc.string({ maxLength: 6 }),
  );
  const row = fc.array(cell, { maxLength: 5 }).map((cells) => cells.join(','));
  const header = fc.constantFrom(
    'DATE,TMIN,TMAX',
    'date;temp_min;temp_max',
    'date,temp_min',
    'DATE,TMIN,TMIN_ATTRIBUTES',
    '',
  );
  fc.assert(
    fc.property(header, fc.array(row, { maxLength: 20 }), (head, rows) => {
      const station = readStation([head, ...rows].join('\n'));
      if ('refused' in station) return station.refused.length > 0;
      return station.days.every(
        ({ day, min, max }, i, all) =>
          Number.isInteger(day) &&
          (i === 0 || day > (all[i - 1]?.day ?? 0)) &&
          (min !== undefined || max !== undefined) &&
          [min, max].every((one) => one === undefined || (one >= -90 && one <= 60)) &&
          !(min !== undefined && max !== undefined && min > max),
      );
    }),
    { numRuns: 500 },
  );
});
