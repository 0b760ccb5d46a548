import type { Day } from '#grammar/statement.ts';
import { coverOn } from '../cover.ts';
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

/** A cold spell is over with a reading that is no frost, or so many days after the last one that was (decided 39). */
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
    return {
      severity: limit.severity,
      entry,
      span: (reading && factSpan(reading, 'min')) ?? daySpan(entry),
      message: (grafts, count) =>
        sentence(
          `${degrees(min)} in \`${place}\` on ${dayText(day)}: ${grafts} ${count === 1 ? 'is' : 'are'} in doubt, a tender union dies of frost.`,
        ),
      numbers: cohort.numbers,
      cohort,
      day,
      weight: -min,
      related: [{ entry: cohort.made, span: setSpan(cohort), message: 'Grafted here, and not taken yet.' }],
    };
  }),
);

const setSpan = ({ made, batch }: Cohort) =>
  made.line.statement?.sets.find(({ name }) => name.key === batch.key)?.span ?? daySpan(made);

/** First nights of cold spells before the take: by the place's own readings, else by the station where it is uncovered. */
export function frozenStays(cohort: Cohort, env: CheckEnv): FrostNight[] {
  if (cohort.stays.length === 0) return [];
  const nights: FrostNight[] = [];
  const last = untakenTill(cohort, env.day);
  const subject = subjectOf(cohort, cohort.madeDay, env.log, env.lots);
  for (const days of staysTill(cohort, last)) {
    let spell: Day | undefined;
    for (const night of coldest(days, env, cohort)) {
      const [limit] = env.practice.limits('frost', onDay(subject, night.day));
      const isFrost = limit?.high !== undefined && night.min < limit.high;
      if (!isFrost) {
        if (night.min >= 0) spell = undefined;
        continue;
      }
      if (spell === undefined || night.day - spell > spellDays) nights.push({ ...night, stay: days.stay, limit });
      spell = night.day;
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

/** Readings while they stood there, in the order of the lines on the days of coming and going. */
function readDuring({ stay, from, to, next }: StayDays, env: CheckEnv): readonly PlaceReading[] {
  if (stay.place === undefined) return [];
  return between(env.places.readings(stay.place), from, to).filter(
    ({ entry, day }) =>
      (day !== stay.day || byHistory(entry, stay.entry) > 0) && (day !== next?.day || byHistory(entry, next.entry) < 0),
  );
}

interface Night {
  readonly day: Day;
  readonly min: number;
  readonly reading?: Entry;
}

function coldest(days: StayDays, env: CheckEnv, cohort: Cohort): readonly Night[] {
  const { stay, from, to } = days;
  if (stay.place === undefined || stay.unknown) return [];
  const read = readDuring(days, env).flatMap(({ day, min, entry }) =>
    min === undefined ? [] : [{ day, min, reading: entry }],
  );
  const station = env.weather?.nights(stay.place);
  if (!station) return read;
  const ownDays = new Set(read.map(({ day }) => day));
  const uncovered = between(station, from, to).filter(
    ({ day }) => !ownDays.has(day) && !coverOn(cohort, day, env.log).flags.has('frost-free'),
  );
  return [...read, ...uncovered].sort((a, b) => a.day - b.day);
}

/** Heat where wrapped grafts stood, or on the day of grafting. */
export const tooHot = byCohort((cohort: Cohort, _: BatchHistory, env) => {
  if (cohort.stays.length === 0) return [];
  const found: Seen[] = [];
  const closed = Math.min(cohort.free ?? env.day + 1, cohort.take ?? env.day + 1, cohort.untied ?? env.day + 1);
  let subject: ReturnType<typeof subjectOf> | undefined;
  for (const days of staysTill(cohort, Math.min(env.day, Math.max(closed - 1, cohort.madeDay)))) {
    if (days.stay.unknown) continue;
    for (const { entry, day, max } of readDuring(days, env)) {
      if (max === undefined) continue;
      subject ??= subjectOf(cohort, day, env.log, env.lots);
      const [limit] = env.practice.limits('hot', onDay(subject, day));
      // the figure itself is hot already (decided 109)
      if (limit?.low === undefined || below(max, limit.amount)) continue;
      const bench = day === cohort.madeDay;
      if (!bench && !isWrapped(cohort)) continue;
      found.push({
        severity: limit.severity,
        entry,
        span: factSpan(entry, 'max') ?? daySpan(entry),
        message: bench
          ? `${degrees(max)} on the day of grafting: scions wilt before they are wrapped; a cool morning or shade is kinder.`
          : `${degrees(max)} under the wrap: vent and shade.`,
        numbers: cohort.numbers,
        cohort,
        day,
        weight: max,
      });
    }
  }
  return found;
});
