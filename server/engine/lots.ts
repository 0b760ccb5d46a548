import type { Day, Statement } from '#grammar/statement.ts';
import type { Key } from '#grammar/vocabulary.ts';
import { factOf, namedIn, namesIn } from './facts.ts';
import type { Log } from './log.ts';
import type { Cohort, Entry, Found, Group } from './model.ts';
import { groupOf } from './plant.ts';
import type { Range } from './practice-subject.ts';

/** Where a lot was kept from a line on, and how warm that is, °C, by the line or by the place. */
export interface LotStay {
  readonly entry: Entry;
  readonly day: Day;
  readonly place?: string;
  readonly at?: Range;
}

/** Scion wood: when it was cut, what was noted of it, where it was kept. */
export interface Lot {
  readonly key: string;
  readonly name: string;
  readonly entry: Entry;
  readonly statement: Statement;
  readonly day?: Day;
  readonly group?: Group;
  readonly stays: readonly LotStay[];
  fact(key: Key): Found | undefined;
}

export interface Lots {
  of(key: string): Lot | undefined;
  /** The lot a graft's wood is from, if one is told and declared. */
  ofCohort(cohort: Pick<Cohort, 'fact'>): Lot | undefined;
}

/** Facts of the wood that are noted once, when it is cut. */
const ofTheWood: ReadonlySet<Key> = new Set<Key>(['wood', 'unpruned', 'scion']);

export function lotsOf(log: Log, today: Day): Lots {
  const known = new Map<string, Lot | undefined>();
  const of = (key: string) => {
    if (!known.has(key)) known.set(key, lotOf(key, log, today));
    return known.get(key);
  };
  return {
    of,
    ofCohort: (cohort) => {
      const name = namedIn(cohort.fact('lot')?.fact);
      return name && of(name.key);
    },
  };
}

function lotOf(key: string, log: Log, today: Day): Lot | undefined {
  const declared = log.names.declared(key);
  const statement = declared?.entry.line.statement;
  if (declared?.kind !== 'lot' || !statement) return undefined;
  const { entry, name } = declared;
  const tree = namesIn(factOf(statement, 'from'))[0];
  const told = tree && log.names.declared(tree.key)?.entry.line.statement?.taxa;
  const group = groupOf(statement.taxa?.scion ?? told?.scion);
  const stays: LotStay[] = [];
  const from = (line: Entry, said: Statement, placeKey: Key) => {
    if (line.day === undefined || line.day > today) return;
    const place = namedIn(factOf(said, placeKey))?.key;
    const at = degrees(said) ?? (place === undefined ? undefined : degrees(placeStatement(place, log)));
    stays.push({ entry: line, day: line.day, ...(place === undefined ? {} : { place }), ...(at ? { at } : {}) });
  };
  from(entry, statement, 'in');
  for (const line of log.names.workOn(key)?.all ?? []) {
    const said = line.line.statement;
    if (said?.verb === 'move' && !said.idle) from(line, said, 'to');
  }
  return {
    key,
    name,
    entry,
    statement,
    ...(entry.day === undefined ? {} : { day: entry.day }),
    ...(group ? { group } : {}),
    stays,
    fact: (wanted) => {
      const fact = ofTheWood.has(wanted) ? factOf(statement, wanted) : undefined;
      return fact && { fact, entry, from: 'lot' };
    },
  };
}

function placeStatement(key: string, log: Log): Statement | undefined {
  const declared = log.names.declared(key);
  return declared?.kind === 'place' ? declared.entry.line.statement : undefined;
}

function degrees(statement: Statement | undefined): Range | undefined {
  const fact = factOf(statement, 'at');
  if (!fact || fact.lost || fact.value.kind !== 'amount') return undefined;
  const { low, high } = fact.value;
  return low === undefined || high === undefined ? undefined : { low, high };
}

/** °C the wood was kept at from its cutting to a day, where every stay that lasted a night tells it. */
export function storedAt(lot: Lot, day: Day): Range | undefined {
  const kept = lot.stays.filter((stay, i) => stay.day < Math.min(day, lot.stays[i + 1]?.day ?? day));
  if (kept.length === 0) return undefined;
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const { at } of kept) {
    if (!at) return undefined;
    [low, high] = [Math.min(low, at.low), Math.max(high, at.high)];
  }
  return { low, high };
}
