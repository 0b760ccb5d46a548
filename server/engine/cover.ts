import type { Day, Statement } from '#grammar/statement.ts';
import { coverFlags } from '#grammar/vocabulary.ts';
import { factOf } from './facts.ts';
import type { Log } from './log.ts';
import type { Cohort, Cover, Entry, Stay, Visit } from './model.ts';

/** What sheltered grafts on a day, and where they stood. */
export interface Shelter {
  readonly flags: ReadonlySet<Cover>;
  /** Absent: nobody told. */
  readonly stay?: Stay;
  /** A reading below 0 °C that day, which overrules `frost-free` for that night only; it is not taken off `flags`. */
  readonly frost?: Entry;
}

/** The stay of a day: where it stood when that day ended. */
export function stayOn(cohort: Pick<Cohort, 'stays'>, day: Day): Stay | undefined {
  return cohort.stays.findLast((stay) => stay.day <= day);
}

/** Cover of grafts on a day: that of their place and their own, as covered and uncovered so far. */
export function coverOn(cohort: Pick<Cohort, 'stays' | 'fact' | 'named'>, day: Day, log: Log): Shelter {
  const stay = stayOn(cohort, day);
  const given = stay?.place === undefined ? noCover : placeCover(stay.place, day, log);
  const own = ownCover(cohort, day);
  const flags = own.size === 0 ? given : implied(new Set([...given, ...own]));
  const frost = stay?.place === undefined ? undefined : readFrost(stay.place, day, log);
  return { flags, ...(stay ? { stay } : {}), ...(frost ? { frost } : {}) };
}

export const noCover: ReadonlySet<Cover> = new Set();

/** What a place gives on a day; of a place nothing declares only what was put on. */
export function placeCover(place: string, day: Day, log: Log): ReadonlySet<Cover> {
  const declared = log.names.declared(place);
  const entry = declared?.kind === 'place' ? declared.entry : undefined;
  const work = log.names.workOn(place)?.derive(coverWork);
  // of most places nothing is put on or off, and what their line gives is asked of every graft there
  if (!work || work.length === 0) return entry ? declaredCover(entry) : noCover;
  const flags = new Set<Cover>(flagsIn(entry?.line.statement, allCover));
  // taken off is what was declared or put on; what `heated` and `mist` bring along stays with them
  putOn(flags, work, day);
  return implied(flags);
}

const declaredCovers = new WeakMap<Entry, ReadonlySet<Cover>>();

function declaredCover(entry: Entry): ReadonlySet<Cover> {
  let known = declaredCovers.get(entry);
  if (!known) {
    known = implied(new Set(flagsIn(entry.line.statement, allCover)));
    declaredCovers.set(entry, known);
  }
  return known;
}

/** Fleece and cloth on the grafts themselves, or on their tree: by the graft's line or its batch's, and by what came since. */
function ownCover(cohort: Pick<Cohort, 'fact' | 'named'>, day: Day): ReadonlySet<Cover> {
  const told = coverFlags.filter((flag) => cohort.fact(flag)?.fact.value.kind === 'flag');
  const work = cohort.named.filter(
    ({ verb, undivided }: Visit) => (verb === 'cover' || verb === 'uncover') && !undivided,
  );
  if (told.length + work.length === 0) return noCover;
  const flags = new Set<Cover>(told);
  putOn(flags, work, day);
  return flags;
}

/** Of the lines on a place, which may be thousands of readings, those that cover and uncover it. */
function coverWork(all: readonly Entry[]): readonly Work[] {
  return all.flatMap(({ day, line: { statement } }) =>
    day !== undefined && !statement?.idle && (statement?.verb === 'cover' || statement?.verb === 'uncover')
      ? [{ day, statement }]
      : [],
  );
}

interface Work {
  readonly day: Day;
  readonly statement: Statement | undefined;
}

/** Covered and uncovered, line by line; what is put on counts for the whole of its day. */
function putOn(flags: Set<Cover>, work: readonly Work[], day: Day): void {
  const today: Cover[] = [];
  for (const { day: on, statement } of work) {
    if (on > day) break;
    if (statement?.verb === 'cover') {
      for (const flag of flagsIn(statement, coverFlags)) {
        flags.add(flag);
        if (on === day) today.push(flag);
      }
    }
    if (statement?.verb === 'uncover') {
      const named = flagsIn(statement, coverFlags);
      for (const flag of named.length > 0 ? named : coverFlags) flags.delete(flag);
    }
  }
  for (const flag of today) flags.add(flag);
}

const allCover = [...coverFlags, 'heated', 'mist'] as const;

function flagsIn(statement: Statement | undefined, wanted: readonly Cover[]): Cover[] {
  return wanted.filter((flag) => factOf(statement, flag)?.value.kind === 'flag');
}

function implied(flags: Set<Cover>): Set<Cover> {
  if (flags.has('heated')) flags.add('frost-free');
  if (flags.has('mist')) flags.add('humid');
  return flags;
}

/** A reading below 0.0 °C at a place on a day. */
export function readFrost(place: string, day: Day, log: Log): Entry | undefined {
  for (const entry of readingsOn(place, day, log)) {
    const min = factOf(entry.line.statement, 'min');
    if (min && !min.lost && min.value.kind === 'amount' && (min.value.low ?? min.value.high ?? 0) < 0) return entry;
  }
  return undefined;
}

/** Readings at a place on one day. */
function readingsOn(place: string, day: Day, log: Log): Entry[] {
  const list = log.names.workOn(place);
  if (!list) return [];
  const found: Entry[] = [];
  const first = list.all[0];
  if (!first) return found;
  for (let i = list.from({ ...first, day, minute: 0, file: '', rank: 0 }); i < list.all.length; i++) {
    const entry = list.all[i] as Entry;
    if (entry.day !== day) break;
    if (entry.line.statement?.verb === 'reading' && !entry.line.statement.idle) found.push(entry);
  }
  return found;
}

/** A place's own latitude, else the site's; nothing where neither is told. */
export function latitudeOf(place: string | undefined, log: Log): number | undefined {
  const declared = place === undefined ? undefined : log.names.declared(place);
  return latIn(declared?.kind === 'place' ? declared.entry : undefined) ?? latIn(log.site);
}

function latIn(entry: Entry | undefined): number | undefined {
  const fact = factOf(entry?.line.statement, 'lat');
  return fact && !fact.lost && fact.value.kind === 'amount' ? fact.value.low : undefined;
}
