import { expect, test } from 'vitest';
import { lineWeather, placeWeatherLines } from '#server/engine/weather-told.ts';
import { logOf } from '../support/log.ts';
import { vegaData } from '../support/tables.ts';
import { answersOf, mild, stationText } from '../support/weather.ts';

/* What the hover says of a station and of a place. */

const nursery = (lat = 47.9) => `site  Drumlin-Lane  lat ${lat}
place  lath  shade
place  shed
place  yard
weather "station.csv"
2026-10-20  reading  shed  min 3.5C
2026-10-21  reading  shed  min 3.4C
2026-10-22  reading  shed  min 9C
2026-10-22  reading  yard  min 9C
`;

function told(text: string, on: string, csv: string) {
  const { log } = logOf(text);
  const { weather, env } = answersOf(log, on, { 'station.csv': csv });
  const [entry] = log.all('weather');
  if (!weather || !entry) throw new Error('no weather line');
  const plain = (lines: readonly string[]) => lines.map((line) => line.replaceAll('\u00A0', ' '));
  return {
    line: plain(lineWeather(entry, weather, env)),
    place: (name: string) => plain(placeWeatherLines(name, weather, env)),
  };
}

/** Last frosts from 2 to 20 March, first ones from 12 to 30 October, and the winter of 2026. */
const tenYears = mild('2017-01-01', '2026-12-31', {
  ...Object.fromEntries(
    Array.from({ length: 10 }, (_, i) => [`${2017 + i}-03-${String(2 + 2 * i).padStart(2, '0')}`, -1]),
  ),
  ...Object.fromEntries(Array.from({ length: 10 }, (_, i) => [`${2017 + i}-10-${30 - 2 * i}`, -1])),
  '2026-11-20': -3.1,
});

test('of a line: what was read, for whom its nights are told, and when frost is past', () => {
  expect(told(nursery(), '2026-12-31', tenYears).line).toEqual([
    // days up to the one computed for
    '3652 days, 1 Jan 2017 to 31 Dec',
    'Its nights are told for shed (1.5 °C warmer here: the median of 3 days with both).',
    // of ten years the sixth, ninth and tenth last frost; a day before the sixth, ninth and tenth first one from the latest
    'Last frost past by 12 Mar (50 %), 18 Mar (80 %), 20 Mar (90 %), none up to 19 Oct (50 %), 13 Oct (80 %), 11 Oct (90 %): 10 years.',
    '1319 °C·d over 5 °C from 1 Jan to 31 Dec.',
  ]);
});

test('of a place: how much warmer it is and on how many days that was learned; its own nights and frosts', () => {
  const { place } = told(nursery(), '2026-12-31', tenYears);
  expect(place('shed')).toEqual([
    'By station.csv: nights 1.5 °C warmer here: the median of 3 days with both.',
    // 1.5 °C warmer nothing of October's −1 froze
    'Last frost past by 1 Jan (90 %), none up to 31 Dec (80 %), 19 Nov (90 %): 10 years.',
    '1 night below 0 °C since 1 Jul, the coldest −1.6 °C on 20 Nov.',
    '1319 °C·d over 5 °C from 1 Jan to 31 Dec.',
  ]);
  expect(place('yard')[0]).toBe('By station.csv: its calendar only, as too few days have both.');
  expect(place('lath')).toEqual(place('yard'));
});

test('gaps, rows left out and figures that failed the station’s own control are counted', () => {
  const csv =
    'DATE,TMIN,TMIN_ATTRIBUTES,TMAX\n2026-01-01,-10,",,E",50\n2026-01-02,-999,",X,E",50\n2026-01-05,10,",,E",50\n2026-13-05,10,",,E",50\n';
  expect(told(nursery(), '2026-12-01', csv).line[0]).toBe(
    '3 days, 1 Jan to 5 Jan; 2 days missing; 1 row left out; 1 figure that failed the station’s own control left out',
  );
});

test('few years tell the middle day, fewer none; ten years without frost ask for no cover', () => {
  const frost = (csv: string) => told(nursery(), '2026-12-01', csv).line[2];
  const three = mild('2023-01-01', '2025-12-31', {
    '2023-03-02': -1,
    '2024-03-08': -1,
    '2025-03-04': -1,
    '2023-10-20': -1,
    '2024-10-12': -1,
    '2025-10-16': -1,
  });
  expect(frost(three)).toBe(
    'Last frost past by 4 Mar (50 %), none up to 15 Oct (50 %): 3 years; more certainty asks for 10.',
  );
  expect(frost(mild('2025-01-01', '2025-12-31'))).toBe(
    '1 whole year on record: frost dates ask for 3, and the calendar holds.',
  );
  expect(frost(mild('2015-01-01', '2025-12-31'))).toBe('No night below 0 °C in 11 years: no frost cover is asked for.');
});

test('in the south winter begins with the year and warmth counts from July', () => {
  const southern = stationText('2025-01-01', '2026-09-10', (iso) => (/-0[678]-/.test(iso) ? [-2, 6] : [8, 20]));
  const { place } = told(`${nursery(-43.5)}weather "station.csv"  in lath\n`, '2026-09-10', southern);
  expect(place('lath')).toEqual([
    'By station.csv, taken as it is.',
    '1 whole year on record: frost dates ask for 3, and the calendar holds.',
    '92 nights below 0 °C since 1 Jan, the coldest −2 °C on 1 Jun.',
    expect.stringMatching(/^\d+ °C·d over 5 °C from 1 Jul to 10 Sep\.$/),
  ]);
});

test('four years of Seattle, as a place’s own station (vega-datasets 3.2.1; NOAA)', () => {
  const { place } = told(`${nursery()}weather "station.csv"  in lath\n`, '2015-12-31', vegaData('seattle-weather.csv'));
  expect(place('lath')).toEqual([
    'By station.csv, taken as it is.',
    expect.stringContaining('4 years; more certainty asks for 10.'),
    expect.stringContaining('below 0 °C since 1 Jul'),
    expect.stringContaining('°C·d over 5 °C from 1 Jan to 31 Dec.'),
  ]);
});
