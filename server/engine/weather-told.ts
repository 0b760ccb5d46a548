import type { Day } from '#grammar/statement.ts';
import { sumOfDegreeDays } from '#server/weather/degree-days.ts';
import { yearsAsked } from '#server/weather/frost-dates.ts';
import { seasonStart } from '#server/weather/swelling.ts';
import type { CheckEnv } from './checks/case.ts';
import { degrees } from './checks/words.ts';
import { latitudeOf, placeCover } from './cover.ts';
import type { Entry } from './model.ts';
import { isTropical } from './practice-year.ts';
import { countText, dayText, percent } from './say.ts';
import { type Climate, farWords, type LogWeather, offsetWords } from './weather-of.ts';
import { type DayOfYear, inYear } from './year.ts';

/*
 * What a log knows of the weather, in sentences: of a `weather` line what was read and for whom it holds, of a place how
 * it differs from its station, when frost is past, how cold and how warm it has been so far.
 */

/** Of a line whose file was read; nothing where it wasn't, which its finding says. */
export function lineWeather(entry: Entry, weather: LogWeather, env: CheckEnv): string[] {
  const line = weather.stationOf(entry);
  const [first, last] = [line?.days[0], line?.days.at(-1)];
  if (!line || !first || !last) return [];
  const { skipped, flagged } = line.station;
  const missing = last.day - first.day + 1 - line.days.length;
  const gaps = [
    ...(missing > 0 ? [`${countText(missing, 'day')} missing`] : []),
    ...(skipped.length > 0 ? [`${countText(skipped.length, 'row')} left out`] : []),
    ...(flagged > 0 ? [`${countText(flagged, 'figure')} that failed the station’s own control left out`] : []),
  ];
  const read = `${countText(line.days.length, 'day')}, ${dayText(first.day, env.day)} to ${dayText(last.day, env.day)}`;
  return [
    [read, ...gaps].join('; '),
    ...heldFor(line, weather, env),
    ...climateLines(line.place ?? '', weather.climate(line.place ?? ''), env),
  ];
}

/** Places that have their nights or days from it, with how much warmer they are; for all others its calendar only. */
function heldFor(line: { readonly entry: Entry }, weather: LogWeather, { log }: CheckEnv): string[] {
  const sources = [...log.names.allDeclared('place')].flatMap(({ key, name }) => {
    const source = weather.climate(key)?.sources.find((one) => one.line.entry === line.entry);
    return source ? [{ name, open: source.min ?? source.max, covered: source.covered.min ?? source.covered.max }] : [];
  });
  const open = sources.flatMap((one) => (one.open ? [`${one.name} (${offsetWords(one.open)})`] : []));
  const covered = sources.flatMap(({ name, covered: offset }) =>
    offset ? [`${name} ${farWords(offset)} (${offset.days})`] : [],
  );
  return [
    open.length > 0
      ? `Its nights are told for ${few(open)}.`
      : 'Its nights are told for no place that stands open; it lends its calendar to all of them.',
    ...(covered.length > 0 ? [`Under cover, by the median of so many days with both: ${few(covered)}.`] : []),
  ];
}

const few = (items: readonly string[]): string =>
  items.length > 4 ? `${items.slice(0, 4).join(', ')} and ${items.length - 4} more` : items.join(', ');

/** Of a place some station tells something of. */
export function placeWeatherLines(place: string, weather: LogWeather, env: CheckEnv): string[] {
  const climate = weather.climate(place);
  const [source] = climate?.sources ?? [];
  if (!climate || !source) return [];
  const { path } = source.line;
  const kept = placeCover(place, env.day, env.log).has('frost-free');
  const { min: night, max: noon } = kept ? source.covered : source;
  const asItIs = night?.degrees === 0 && night.days === undefined;
  const parts = [
    ...(night ? [`nights ${offsetWords(night)}`] : []),
    ...(noon && !(night && night.days === undefined) ? [`days ${offsetWords(noon)}`] : []),
  ];
  const by =
    parts.length > 0
      ? `${kept ? 'under its cover ' : ''}${parts.join('; ')}`
      : `its calendar only, as ${kept ? 'it is kept from frost' : 'too few days have both'}`;
  return [asItIs ? `By ${path}, taken as it is.` : `By ${path}: ${by}.`, ...climateLines(place, climate, env)];
}

function climateLines(place: string, climate: Climate | undefined, env: CheckEnv): string[] {
  if (!climate) return [];
  const kept = placeCover(place, env.day, env.log).has('frost-free');
  return [frostLine(place, climate, env), kept ? '' : coldLine(climate, env), warmthLine(place, climate, env)].filter(
    (line) => line !== '',
  );
}

/** Certainties that practice asks for, and the middle. */
const certainties = [0.5, 0.8, 0.9] as const;

function frostLine(place: string, { weather, frostDates }: Climate, { log }: CheckEnv): string {
  if (isTropical(latitudeOf(place, log))) return '';
  const { years } = weather;
  if (years.frostFree >= 10)
    return `No night below 0\u00A0°C in ${years.frostFree} years: no frost cover is asked for.`;
  const count = Math.min(years.last.length, years.first.length);
  const said = (edge: 'last-frost' | 'first-frost') => {
    const days = new Map<string, number>();
    for (const certain of certainties) {
      const at: DayOfYear | undefined = frostDates(edge, certain);
      // one day for two certainties: the greater one says more
      if (at) days.set(dayText(inYear(at, 2023)), certain);
    }
    return [...days].map(([at, certain]) => `${at} (${percent(certain)})`).join(', ');
  };
  const [last, first] = [said('last-frost'), said('first-frost')];
  if (!last || !first)
    return `${count === 0 ? 'No whole years' : countText(count, 'whole year')} on record: frost dates ask for ${yearsAsked(0.5)}, and the calendar holds.`;
  const few = count < yearsAsked(0.9) ? `; more certainty asks for ${yearsAsked(0.9)}` : '';
  const where = weather.nights.length === 0 && place !== '' ? 'Out of doors the last frost is' : 'Last frost';
  return `${where} past by ${last}, none up to ${first}: ${count} years${few}.`;
}

/** Since the winter began. */
function coldLine({ weather, south }: Climate, { day }: CheckEnv): string {
  const since = seasonStart(day, !south);
  const nights = weather.nights.filter((night) => night.day >= since && night.day <= day && night.min < 0);
  const coldest = nights.reduce((most, night) => (night.min < most.min ? night : most), nights[0] ?? { day, min: 0 });
  return nights.length === 0
    ? ''
    : `${countText(nights.length, 'night')} below 0\u00A0°C since ${dayText(since)}, the coldest ${degrees(coldest.min)} on ${dayText(coldest.day)}.`;
}

function warmthLine(place: string, { weather, south }: Climate, { day, log, practice }: CheckEnv): string {
  const base = practice.figure('degree-base', { day, lat: () => latitudeOf(place, log) })?.figure;
  const since = seasonStart(day, south);
  const last: Day | undefined = weather.days.findLast(
    (one) => one.day <= day && one.min !== undefined && one.max !== undefined,
  )?.day;
  if (base === undefined || last === undefined || last < since) return '';
  const sum = sumOfDegreeDays(weather.days, base, since, last);
  return sum === undefined
    ? ''
    : `${Math.round(sum)}\u00A0°C·d over ${degrees(base)} from ${dayText(since)} to ${dayText(last)}.`;
}
