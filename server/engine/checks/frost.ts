import type { Day } from '#grammar/statement.ts';
import { coverOn, type Shelter } from '../cover.ts';
import type { BatchHistory, Cohort, Entry, Stay } from '../model.ts';
import { byHistory } from '../order.ts';
import { type Limit, onDay } from '../practice.ts';
import { below } from '../practice-match.ts';
import { dayText } from '../say.ts';
import { subjectOf } from '../subject.ts';
import { byCohort, type CheckEnv, daySpan, factSpan, type Seen } from './case.ts';
import { between, type PlaceReading, type StayDays, staysTill } from './place-lines.ts';
import { degrees, sentence } from './words.ts';
import { isWrapped } from './wrap.ts';

/** A cold spell is over with a reading that is no frost, or so many days after the last one that was. */
const spellDays = 7;

/** A frost night that untaken grafts stood in. */
interface FrostNight {
  readonly stay: Stay;
  readonly day: Day;
  readonly min: number;
  readonly limit: Limit;
  /** The reading; absent where a station tells it. */
  readonly reading?: Entry;
}

/** Frost where grafts stood that had not taken yet: the first night of each cold spell. */
export const froze = byCohort((cohort, _, env) =>
  frozenStays(cohort, env).map(({ stay, day, min, limit, reading }): Seen => {
    const place = env.log.names.declared(stay.place ?? '')?.name ?? stay.place ?? '';
    const entry = reading ?? stay.entry;
    const told = reading ? undefined : env.weather?.told(stay.place ?? '', 'min', day);
    return {
      severity: limit.severity,
      practice: limit.row.entry,
      entry,
      span: (reading && factSpan(reading, 'min')) ?? daySpan(entry),
      message: (grafts, count) =>
        sentence(
          `${degrees(min)} in \`${place}\` on ${dayText(day)}${reading ? '' : ` by ${told?.by ?? 'the station'}`}: ${grafts} ${count === 1 ? 'is' : 'are'} in doubt, a tender union dies of frost.`,
        ),
      numbers: cohort.numbers,
      cohort,
      day,
      weight: -min,
      related: [
        { entry: cohort.made, span: setSpan(cohort), message: 'Grafted here, and not taken yet.' },
        ...(told ? [told.related] : []),
      ],
    };
  }),
);

const setSpan = ({ made, batch }: Cohort) =>
  made.line.statement?.sets.find(({ name }) => name.key === batch.key)?.span ?? daySpan(made);

/** One night of each cold spell before the take: by the place's own readings, else by the station where it is uncovered. */
export function frozenStays(cohort: Cohort, env: CheckEnv): FrostNight[] {
  if (cohort.stays.every((stay) => coldNights(stay, env).length === 0)) return [];
  const nights: FrostNight[] = [];
  const last = untakenTill(cohort, env.day);
  const subject = subjectOf(cohort, cohort.madeDay, env.log, env.lots);
  for (const days of staysTill(cohort, last)) {
    let spell: Day | undefined;
    let warmer = false;
    for (const night of during(days, coldNights(days.stay, env))) {
      if (night.afterWarm) warmer = true;
      if (!night.reading && coverOn(cohort, night.day, env.log).flags.has('frost-free')) continue;
      const [limit] = env.practice.limits('frost', onDay(subject, night.day));
      if (limit?.high === undefined || night.min >= limit.high) continue;
      const last = nights.at(-1);
      if (spell === undefined || warmer || night.day - spell > spellDays)
        nights.push({ ...night, stay: days.stay, limit });
      // nobody wrote a line that night: of a spell that a station tells, the coldest night speaks
      else if (last && !last.reading && !night.reading && night.min < last.min)
        nights[nights.length - 1] = { ...night, stay: days.stay, limit };
      [spell, warmer] = [night.day, false];
    }
  }
  return nights;
}

/** Counted takes don't tell which: from the first of them on nobody knows who could still freeze. */
export function untakenTill(cohort: Cohort, today: Day): Day {
  const counted = cohort.undivided
    ? cohort.named.find(({ verb, undivided }) => verb === 'take' && undivided)?.day
    : undefined;
  return Math.min(today, (cohort.take ?? Number.POSITIVE_INFINITY) - 1, (counted ?? Number.POSITIVE_INFINITY) - 1);
}

/** Nights and readings while grafts stood at a place, in the order of the lines on the days of coming and going. */
function during<T extends { readonly day: Day; readonly reading?: Entry }>(
  { stay, from, to, next }: StayDays,
  list: readonly T[],
): readonly T[] {
  return between(list, from, to).filter(
    ({ day, reading }) =>
      (day !== stay.day || !reading || byHistory(reading, stay.entry) > 0) &&
      (day !== next?.day || !reading || byHistory(reading, next.entry) < 0),
  );
}

interface ColdNight {
  readonly day: Day;
  readonly min: number;
  readonly reading?: Entry;
  /** Since the cold night before it was seen to be no frost. */
  readonly afterWarm: boolean;
}

interface HotDay {
  readonly day: Day;
  readonly max: number;
  /** Absent where a station tells it. */
  readonly reading?: Entry;
}

/** Of a place's readings, which may be one a day, the few that practice may have something to say of. */
interface Extremes {
  readonly cold: readonly ColdNight[];
  readonly hot: readonly HotDay[];
}

/** By a place's readings and the station's nights: the lists are the same for as long as nothing in them is another. */
const noted = new WeakMap<readonly PlaceReading[], WeakMap<StationNights, Map<string, Extremes>>>();
type StationNights = ReturnType<NonNullable<CheckEnv['weather']>['nights']>;
const noStation: readonly never[] = [];

function coldNights({ place, unknown }: Stay, env: CheckEnv): readonly ColdNight[] {
  return place === undefined || unknown ? noStation : extremes(place, env).cold;
}

function hotDays({ place, unknown }: Stay, env: CheckEnv): readonly HotDay[] {
  return place === undefined || unknown ? noStation : extremes(place, env).hot;
}

function extremes(place: string, env: CheckEnv): Extremes {
  const readings = env.places.readings(place);
  const nights = env.weather?.nights(place) ?? noStation;
  const { frost, hot } = edgesOf(env.practice);
  const lists = noted.get(readings) ?? new WeakMap<StationNights, Map<string, Extremes>>();
  noted.set(readings, lists);
  const byEdge = lists.get(nights) ?? new Map<string, Extremes>();
  lists.set(nights, byEdge);
  const edges = `${frost} ${hot}`;
  const known = byEdge.get(edges);
  if (known) return known;
  const found = {
    cold: coldest(allNights(readings, nights), frost),
    hot: allDays(readings, env.weather?.heat(place) ?? []).filter(({ max }) => max >= hot),
  };
  byEdge.set(edges, found);
  return found;
}

type Night = Omit<ColdNight, 'afterWarm'>;

/** A place's own reading stands over the station's figure of that day. */
function allNights(
  readings: readonly PlaceReading[],
  station: readonly { readonly day: Day; readonly min: number }[],
): readonly Night[] {
  const own = readings.flatMap(({ day, min, entry }) => (min === undefined ? [] : [{ day, min, reading: entry }]));
  return withStation<Night>(own, station);
}

function allDays(
  readings: readonly PlaceReading[],
  station: readonly { readonly day: Day; readonly max: number }[],
): readonly HotDay[] {
  const own = readings.flatMap(({ day, max, entry }) => (max === undefined ? [] : [{ day, max, reading: entry }]));
  return withStation<HotDay>(own, station);
}

function withStation<T extends { readonly day: Day }>(own: readonly T[], station: readonly T[]): readonly T[] {
  if (station.length === 0) return own;
  const days = new Set(own.map(({ day }) => day));
  return [...own, ...station.filter(({ day }) => !days.has(day))].sort((a, b) => a.day - b.day);
}

function coldest(nights: readonly Night[], frost: number): readonly ColdNight[] {
  const cold: ColdNight[] = [];
  let afterWarm = false;
  for (const night of nights) {
    if (night.min < frost) cold.push({ ...night, afterWarm });
    afterWarm = night.min >= Math.max(0, frost) || (afterWarm && night.min >= frost);
  }
  return cold;
}

/** Heat where wrapped grafts stood, or on the day of grafting. */
export const tooHot = byCohort((cohort: Cohort, _: BatchHistory, env) => {
  if (cohort.stays.every((stay) => hotDays(stay, env).length === 0)) return [];
  const found: Seen[] = [];
  const closed = Math.min(cohort.free ?? env.day + 1, cohort.take ?? env.day + 1, cohort.untied ?? env.day + 1);
  let subject: ReturnType<typeof subjectOf> | undefined;
  for (const days of staysTill(cohort, Math.min(env.day, Math.max(closed - 1, cohort.madeDay)))) {
    const { place } = days.stay;
    if (place === undefined) continue;
    for (const { reading, day, max } of during(days, hotDays(days.stay, env))) {
      const entry = reading ?? days.stay.entry;
      // under a roof it may be cooler or hotter than at the station
      if (!reading && isUnderRoof(coverOn(cohort, day, env.log))) continue;
      subject ??= subjectOf(cohort, day, env.log, env.lots);
      const [limit] = env.practice.limits('hot', onDay(subject, day));
      // the figure itself is hot already
      if (limit?.low === undefined || below(max, limit.amount)) continue;
      const bench = day === cohort.madeDay;
      if (!bench && !isWrapped(cohort)) continue;
      const told = reading ? undefined : env.weather?.told(place, 'max', day);
      found.push({
        severity: limit.severity,
        practice: limit.row.entry,
        entry,
        span: (reading && factSpan(reading, 'max')) ?? daySpan(entry),
        message: hotWords(max, bench, reading ? undefined : { day, by: told?.by ?? 'the station' }),
        numbers: cohort.numbers,
        cohort,
        day,
        weight: max,
        ...(told ? { related: [told.related] } : {}),
      });
    }
  }
  return found;
});

const roofs = ['frost-free', 'heated', 'mist', 'humid'] as const;
const isUnderRoof = ({ flags }: Shelter) => roofs.some((flag) => flags.has(flag));

/** `station`: the day and whose word it is, where a station tells it. */
function hotWords(
  max: number,
  bench: boolean,
  station: { readonly day: Day; readonly by: string } | undefined,
): string {
  const seen = station === undefined ? degrees(max) : `${degrees(max)} on ${dayText(station.day)} by ${station.by}`;
  if (!bench)
    return station === undefined
      ? `${seen} under the wrap: vent and shade.`
      : `${seen}, more under the wrap: vent and shade.`;
  const grafting = station === undefined ? `${seen} on the day of grafting` : `${seen}, the day of grafting`;
  return `${grafting}: scions wilt before they are wrapped; a cool morning or shade is kinder.`;
}

interface Edges {
  readonly frost: number;
  readonly hot: number;
}

const edges = new WeakMap<CheckEnv['practice'], Edges>();

/** No line calls anything milder frost, or anything cooler hot. */
function edgesOf(practice: CheckEnv['practice']): Edges {
  const known = edges.get(practice);
  if (known) return known;
  const ends = (id: 'frost' | 'hot', end: 'low' | 'high') =>
    practice.rows.flatMap(({ key, value }) => (key === id && value.kind === 'amount' ? (value[end] ?? []) : []));
  const found = { frost: Math.max(...ends('frost', 'high')), hot: Math.min(...ends('hot', 'low')) };
  edges.set(practice, found);
  return found;
}
