import type { Day } from '#grammar/statement.ts';
import { coverOn, type Shelter } from '../cover.ts';
import { factOf } from '../facts.ts';
import type { BatchHistory, Cohort, Cover, Entry, Visit } from '../model.ts';
import { onDay, type Subject } from '../practice.ts';
import { subjectOf } from '../subject.ts';
import { seasonOf } from '../year.ts';
import { inParts } from './calendar.ts';
import { byCohort, type CheckEnv, daySpan, factSpan, type Seen } from './case.ts';
import { frozenStays, untakenTill } from './frost.ts';
import { addCover } from './mends.ts';
import { sentence } from './words.ts';

/** A day on which grafts came to stand somewhere: made there, or moved. */
interface Arrival {
  readonly entry: Entry;
  readonly day: Day;
  readonly made: boolean;
}

/** Grafts in the cold part of the year where nothing keeps them from freezing. */
export const frostCoverMissing = byCohort((cohort, history, env) =>
  missing('frost-free', cohort, history, env, {
    ends: cohort.take,
    asked: (arrival, shelter, subject) => {
      const place = shelter.stay?.place;
      if (place !== undefined && env.weather?.frostFree(place)) return undefined;
      // grafted in spring, when frost may be past: asked only where one came
      const lat = subject.lat?.(arrival.day);
      if (arrival.made && seasonOf(arrival.day, lat) === 'spring' && !frozeThatSpring(cohort, arrival, lat, env))
        return undefined;
      return shelter.stay || shelter.flags.size > 0 ? 'missing' : 'unknown';
    },
    say: (season, where, made) =>
      `${made ? `${season} graft` : 'Not taken yet'} ${where}, no frost cover: kept from any freezing these take best; once frozen they are lost.`,
  }),
);

/** Grafts made or moved in the bright half of the year where nothing shades them. */
export const sunCoverMissing = byCohort((cohort, history, env) =>
  missing('shade', cohort, history, env, {
    ends: cohort.free,
    asked: (_, { stay, flags }) => (stay || flags.size > 0 ? 'missing' : undefined),
    say: (_, where) => `No shade ${where}: grafts in growth dry out before they are joined.`,
  }),
);

/** The same for wind. A heated, frost-free or misted place is indoors. */
export const windCoverMissing = byCohort((cohort, history, env) =>
  missing('wind-break', cohort, history, env, {
    ends: cohort.free,
    asked: (_, { stay, flags }) => {
      const sheltered = (['heated', 'frost-free', 'mist'] as const).some((flag) => flags.has(flag));
      return (stay || flags.size > 0) && !sheltered ? 'missing' : undefined;
    },
    say: (_, where) => `No shelter from wind ${where}: it dries the scion and rocks the union.`,
  }),
);

interface Asking {
  /** From that day on it is no longer asked. */
  readonly ends: Day | undefined;
  readonly asked: (arrival: Arrival, shelter: Shelter, subject: Subject) => 'missing' | 'unknown' | undefined;
  readonly say: (season: string, where: string, made: boolean) => string;
}

function missing(cover: Cover, cohort: Cohort, history: BatchHistory, env: CheckEnv, asking: Asking): Seen[] {
  const found: Seen[] = [];
  let subject: Subject | undefined;
  for (const arrival of arrivals(cohort, env.day)) {
    if (asking.ends !== undefined && asking.ends <= arrival.day && !arrival.made) continue;
    const shelter = coverOn(cohort, arrival.day, env.log);
    // most stand where they are kept from it: nothing more is asked of these
    if (shelter.flags.has(cover) || shelter.stay?.unknown) continue;
    subject = subject ? onDay(subject, arrival.day) : subjectOf(cohort, arrival.day, env.log, env.lots);
    const held = env.practice.needs(cover, subject);
    if (!held) continue;
    const within = held.row.within;
    if (within && !inParts(arrival.day, within, held.row, subject, env, shelter.stay?.place)) continue;
    const what = asking.asked(arrival, shelter, subject);
    if (!what) continue;
    const place = shelter.stay?.place;
    const declared = place === undefined ? undefined : env.log.names.declared(place);
    const where = declared ? `in \`${declared.name}\`` : 'here';
    const season = seasonOf(arrival.day, subject.lat?.(arrival.day));
    found.push({
      severity: what === 'unknown' ? 'hint' : held.severity,
      practice: held.row.entry,
      entry: arrival.entry,
      span: spanOf(arrival, cohort),
      message: sentence(what === 'unknown' ? unknownPlace : asking.say(capital(season ?? 'this'), where, arrival.made)),
      numbers: cohort.numbers,
      cohort,
      day: arrival.day,
      once: place ?? '',
      ...(declared && what === 'missing'
        ? {
            related: [
              {
                entry: declared.entry,
                span: declared.entry.line.statement?.sets[0]?.span ?? daySpan(declared.entry),
                message: `What \`${declared.name}\` gives.`,
              },
            ],
          }
        : {}),
      ...(what === 'missing'
        ? { mends: () => addCover(cover, place, history.batch.entry ?? arrival.entry, env.log) }
        : {}),
    });
  }
  return found;
}

const unknownPlace = 'No place and no cover noted: where they stand, `in frame`, tells whether frost can reach them.';
const capital = (word: string) => word.charAt(0).toUpperCase() + word.slice(1);

/** The graft's line, and every move of the set or its tree: the last of a day is where it stood. */
function arrivals(cohort: Cohort, today: Day): Arrival[] {
  const last = Math.min(end(cohort), untakenTill(cohort, today));
  const moves = cohort.named.filter(
    // what stands on a tree isn't moved by a line of its own: that line is a contradiction, and changes nothing
    ({ verb, undivided, day, via, entry }) =>
      verb === 'move' &&
      !undivided &&
      day <= last &&
      (via === 'tree' || cohort.stays.some((stay) => stay.entry === entry)),
  );
  return [{ entry: cohort.made, day: cohort.madeDay, made: true }, ...moves.map(arrivalOf)];
}

const arrivalOf = ({ entry, day }: Visit): Arrival => ({ entry, day, made: false });
const end = (cohort: Cohort) =>
  Math.min(cohort.fail?.day ?? Number.POSITIVE_INFINITY, cohort.sold ?? Number.POSITIVE_INFINITY);

function spanOf({ entry, made }: Arrival, cohort: Cohort) {
  if (!made) return factSpan(entry, 'to') ?? daySpan(entry);
  const onto = factOf(entry.line.statement, 'onto') ?? factOf(entry.line.statement, 'in');
  return (
    onto?.span ?? entry.line.statement?.sets.find(({ name }) => name.key === cohort.batch.key)?.span ?? daySpan(entry)
  );
}

/** Whether frost came that spring where these grafts stood from the day they were made. */
function frozeThatSpring(cohort: Cohort, arrival: Arrival, lat: number | undefined, env: CheckEnv): boolean {
  return frozenStays(cohort, env).some(
    ({ stay, day }) => stay.day === arrival.day && day - arrival.day < 92 && seasonOf(day, lat) === 'spring',
  );
}
