import type { Day } from '#grammar/statement.ts';
import { checkFlags, type Verb, verbRow } from '#grammar/vocabulary.ts';
import { type PlaceLines, staysTill } from './checks/place-lines.ts';
import { factOf } from './facts.ts';
import type { Log } from './log.ts';
import { actedOn } from './mentions.ts';
import type { BatchHistory, Cohort, Entry, Visit } from './model.ts';
import { byHistory } from './order.ts';

export type CheckFlag = (typeof checkFlags)[number];

/** One look at grafts, their tree or their place, and what was seen. */
export interface Look {
  readonly entry: Entry;
  readonly day: Day;
  readonly flags: ReadonlySet<CheckFlag>;
}

/** What happened to grafts up to a day, as the events of `work` lines count from it. */
export interface Events {
  /** The last line on the set, its batch, its tree or its place. */
  readonly word: Day;
  /** In order; what was seen of some of the set, nobody knows which, is left out. */
  readonly looks: readonly Look[];
  /** Days the wrap was opened; of a place, its tent or lid, it is no step. */
  readonly opened: readonly Day[];
  readonly rewrapped: readonly Day[];
  /** The first swelling of the batch since these were made. */
  readonly firstSwell?: Day;
  /** The last look that saw this. */
  sign(...flags: readonly CheckFlag[]): Look | undefined;
  /** The last line that did this to the set or its tree after it was made. */
  done(verb: Verb): Day | undefined;
  /** Whether something was done about a sign: work of the same day answers it, another look only later. */
  answered(sign: Look): boolean;
}

/** What answers mould, wet or a biting tie. */
const answers: ReadonlySet<Verb> = new Set<Verb>(['open', 'treat', 'free', 'retie', 'rewrap', 'untie', 'fail']);

export function eventsOf(cohort: Cohort, history: BatchHistory, log: Log, places: PlaceLines, today: Day): Events {
  const named = cohort.named.filter((visit) => !visit.undivided);
  const stays = staysTill(cohort, today).filter(({ stay }) => stay.place !== undefined);
  const looks = looksAt(cohort, named, stays, places);
  const firstSwell = firstSwellOf(cohort, history);
  return {
    word: Math.max(cohort.madeDay, batchWord(history, today), cohort.named.at(-1)?.day ?? 0, placeWord(stays, log)),
    looks,
    opened: daysOf(named, 'open'),
    rewrapped: daysOf(named, 'rewrap'),
    ...(firstSwell === undefined ? {} : { firstSwell }),
    sign: (...flags) => looks.findLast((look) => flags.some((flag) => look.flags.has(flag))),
    // up to and on the grafting day, heading back prepares the stock
    done: (verb) =>
      named.findLast((visit) => visit.verb === verb && (verb !== 'headback' || visit.day > cohort.madeDay))?.day,
    answered: (sign) =>
      named.some((visit) => answers.has(visit.verb) && visit.day >= sign.day) ||
      looks.some((look) => look.day > sign.day) ||
      stays.some(({ stay, from, to }) => placeAnswer(stay.place as string, Math.max(from, sign.day), to, log)),
  };
}

const daysOf = (named: readonly Visit[], verb: Verb): Day[] =>
  named.filter((visit) => visit.verb === verb).map((visit) => visit.day);

type Stays = ReturnType<typeof staysTill>;

function looksAt(cohort: Cohort, named: readonly Visit[], stays: Stays, places: PlaceLines): readonly Look[] {
  const own = named.filter(({ verb, day }) => verb === 'check' && day >= cohort.madeDay);
  const entries = new Set(own.map(({ entry }) => entry));
  for (const { stay, from, to } of stays)
    for (const { entry, day } of places.visits(stay.place as string))
      if (day >= from && day <= to && entry.line.statement?.verb === 'check') entries.add(entry);
  const sorted = entries.size > own.length ? [...entries].sort(byHistory) : [...entries];
  return sorted.map((entry) => ({ entry, day: entry.day as Day, flags: flagsOf(entry) }));
}

const flagsOf = ({ line }: Entry): ReadonlySet<CheckFlag> =>
  new Set(checkFlags.filter((flag) => factOf(line.statement, flag)));

/** A batch of several seasons: what swelled before these were made says nothing of them. */
function firstSwellOf(cohort: Cohort, history: BatchHistory): Day | undefined {
  let first: Day | undefined;
  for (const { swell } of history.cohorts)
    if (swell !== undefined && swell >= cohort.madeDay && (first === undefined || swell < first)) first = swell;
  return first;
}

const batchWords = new WeakMap<BatchHistory, { readonly today: Day; readonly word: Day }>();

/** The last line of work on any of the batch's grafts. */
function batchWord(history: BatchHistory, today: Day): Day {
  const known = batchWords.get(history);
  if (known?.today === today) return known.word;
  const last = history.lines.findLast(({ line: { statement }, day }) => {
    if (!statement || statement.idle || day === undefined || day > today) return false;
    return verbRow(statement.verb).kind === 'work' && statement.sets.some(({ name }) => name.key === history.batch.key);
  });
  const word = last?.day ?? Number.NEGATIVE_INFINITY;
  batchWords.set(history, { today, word });
  return word;
}

/** The last line on a place while they stood there. */
function placeWord(stays: Stays, log: Log): Day {
  let word = Number.NEGATIVE_INFINITY;
  for (const { stay, from, to } of stays) {
    const found = lastOn(stay.place as string, from, to, log, () => true);
    if (found !== undefined) word = Math.max(word, found);
  }
  return word;
}

const placeAnswer = (place: string, from: Day, to: Day, log: Log): boolean =>
  lastOn(place, from, to, log, (verb) => verb === 'open' || verb === 'treat') !== undefined;

function lastOn(place: string, from: Day, to: Day, log: Log, is: (verb: Verb) => boolean): Day | undefined {
  const list = log.names.workOn(place);
  const first = list?.first;
  if (!list || !first || from > to) return undefined;
  const end = list.from({ ...first, day: to + 1, minute: 0, file: '', rank: 0 });
  for (let i = end - 1; i >= 0; i--) {
    const { line, day } = list.all[i] as Entry;
    if (day === undefined || day < from) return undefined;
    const { statement } = line;
    if (statement && !statement.idle && is(statement.verb) && actedOn(statement.verb).includes('place')) return day;
  }
  return undefined;
}
