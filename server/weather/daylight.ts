/**
 * Hours of daylight possible on a day of the year: FAO Irrigation and Drainage Paper 56 (Allen et al. 1998), equations
 * 24, 25 and 34. The sun's centre on a level horizon, so some ten minutes less than an almanac's sunrise to sunset.
 *
 * @param latitude degrees, south of the equator below 0
 * @param dayOfYear 1 on 1 January
 * @returns 0 to 24; around midsummer and midwinter beyond the polar circles 24 and 0
 */
export function daylightHours(latitude: number, dayOfYear: number): number {
  const declination = 0.409 * Math.sin((2 * Math.PI * dayOfYear) / 365 - 1.39);
  const cosine = -Math.tan((latitude * Math.PI) / 180) * Math.tan(declination);
  return (24 / Math.PI) * Math.acos(Math.min(1, Math.max(-1, cosine)));
}
