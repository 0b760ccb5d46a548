import fc from 'fast-check';
import { expect, test } from 'vitest';
import { daylightHours } from '#server/weather/daylight.ts';
import { referenceRows } from '../support/tables.ts';

const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'] as const;

test.each(referenceRows('daylight-hours-fao56.csv'))(
  'latitude $lat, in the middle of each month (FAO-56, eq. 34)',
  (row) => {
    const found = months.map((_, i) => daylightHours(Number(row.lat), Math.trunc(30.4 * (i + 1) - 15)));
    for (const [i, month] of months.entries()) expect(found[i]).toBeCloseTo(Number(row[month]), 4);
  },
);

test('published: 20° S on 3 September, 11.7 h (FAO-56, example 9, page 83)', () => {
  expect(daylightHours(-20, 246)).toBeCloseTo(11.7, 1);
  expect(daylightHours(-20, 246)).toBeCloseTo(11.66559, 4);
});

test('beyond the polar circles the sun stays up, or down', () => {
  expect([daylightHours(70, 172), daylightHours(70, 355), daylightHours(-70, 172)]).toEqual([24, 0, 0]);
});

test('0 to 24 hours; north and south together make a day', () => {
  fc.assert(
    fc.property(fc.double({ min: -90, max: 90, noNaN: true }), fc.integer({ min: 1, max: 366 }), (lat, day) => {
      const hours = daylightHours(lat, day);
      return hours >= 0 && hours <= 24 && Math.abs(hours + daylightHours(-lat, day) - 24) < 1e-9;
    }),
  );
});
