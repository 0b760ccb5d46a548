import type { CheckWeather } from '#server/engine/checks/case.ts';

/** A station that tells what a test is about and nothing else. */
export const station = (more: Partial<CheckWeather>): CheckWeather => ({
  nights: () => [],
  heat: () => [],
  frostDates: () => undefined,
  frostFree: () => false,
  told: () => undefined,
  swelling: () => undefined,
  ...more,
});
