import type { Day, Intervals } from '#grammar/statement.ts';
import { size } from '#grammar/values/intervals.ts';
import { applySets, failed, sold } from './apply.ts';
import { batchFacts } from './batch.ts';
import { type Book, type Event, type Planned, wholeDay } from './book.ts';
import { asCohort, type Growing } from './cohort.ts';
import { factOf, namedIn } from './facts.ts';
import type { Log } from './log.ts';
import { make } from './make.ts';
import { actedOn } from './mentions.ts';
import type { BatchHistory, Entry } from './model.ts';
import { byHistory } from './order.ts';
import { plannedOrigin } from './origin.ts';
import { placeVisitsOf } from './place-visits.ts';
import { treeStay } from './stays.ts';

/** A history and the names it was read from: when a line on one of them changes, it has to be read again. */
export interface TrackedHistory extends BatchHistory {
  readonly depends: ReadonlySet<string>;
  /** Places among them whose every line counts, not only those while grafts stood there: the stores of its wood. */
  readonly stores: ReadonlySet<string>;
}

/** All that a batch's grafts went through up to a day: cohorts by grafting line and number, counts, and what can't be. */
export function historyOf(key: string, log: Log, day: Day): TrackedHistory {
  const lines = log.names.mentions(key).slice();
  const grafting = (log.names.workOn(key)?.all ?? []).filter((entry) => isGraft(entry, key));
  const counted = isCounted(grafting, key, day);
  const facts = batchFacts(key, spelled(grafting, key), counted, log);
  const book: Book = {
    key,
    log,
    facts,
    cohorts: [],
    tallies: [],
    findings: [...facts.findings],
    planned: plan(grafting, key, counted),
    events: eventsOf(key, grafting, log, day),
    made: [],
    neverMade: undefined,
    stores: new Set(),
    placeVisits: placeVisitsOf(log, day),
    depends: new Set([key, ...facts.depends, ...namesBeside(lines)]),
  };
  if (grafting.length === 0) {
    const { depends, findings } = plannedOrigin(facts, log);
    for (const name of depends) book.depends.add(name);
    book.findings.push(...findings);
  }
  const borders = bordersOf(lines, key);
  for (const event of book.events) {
    if (event.via === 'tree') applyTree(book, event);
    else if (event.statement.verb === 'graft') make(book, event, borders);
    else applySets(book, event);
  }
  return {
    batch: facts.batch,
    cohorts: sorted(book.cohorts).map(asCohort),
    tallies: book.tallies,
    findings: book.findings,
    lines,
    depends: new Set([...book.depends, ...book.stores]),
    stores: book.stores,
  };
}

const setOf = (entry: Entry, key: string) => entry.line.statement?.sets.find(({ name }) => name.key === key);

function isGraft({ line: { statement } }: Entry, key: string): boolean {
  return statement?.verb === 'graft' && !statement.idle && statement.sets[0]?.name.key === key;
}

/** The first line that makes grafts says whether the batch is numbered or counted. */
function isCounted(grafting: readonly Entry[], key: string, day: Day): boolean {
  const first = grafting.find((entry) => entry.day !== undefined && entry.day <= day) ?? grafting[0];
  return first !== undefined && setOf(first, key)?.numbers === undefined;
}

function spelled(grafting: readonly Entry[], key: string): string {
  const first = grafting[0];
  return (first && setOf(first, key)?.name.text) ?? key;
}

/** Which numbers each graft line makes; a counted batch numbers its grafts inwardly, in the order they were made. */
function plan(grafting: readonly Entry[], key: string, counted: boolean): Planned[] {
  let last = 0;
  return grafting.map((entry) => {
    const set = setOf(entry, key);
    let numbers: Intervals = set?.numbers ?? [];
    if (counted && !set?.numbers && set?.count) {
      numbers = [last + 1, last + set.count.value];
      last += set.count.value;
    }
    return { entry, numbers, ...(entry.day === undefined ? {} : { day: entry.day }) };
  });
}

function eventsOf(key: string, grafting: readonly Entry[], log: Log, today: Day): Event[] {
  const events: Event[] = [];
  for (const entry of log.names.workOn(key)?.all ?? []) {
    const statement = entry.line.statement;
    if (!statement || statement.idle || entry.day === undefined || entry.day > today) continue;
    if (actedOn(statement.verb).includes('batch'))
      events.push({ entry, statement, verb: statement.verb, day: entry.day, via: 'set' });
  }
  const trees = treesOf(key, grafting, log);
  for (const tree of trees) {
    for (const entry of log.names.workOn(tree)?.all ?? []) {
      const statement = entry.line.statement;
      if (!statement || statement.idle || entry.day === undefined || entry.day > today) continue;
      if (actedOn(statement.verb).includes('tree'))
        events.push({ entry, statement, verb: statement.verb, day: entry.day, via: 'tree', tree });
    }
  }
  if (trees.size > 0) events.sort((a, b) => byHistory(a.entry, b.entry));
  return grafting.length > 0 ? graftsFirst(events) : events;
}

/** Trees the batch's grafts were set on, by the graft lines or the batch's own. */
function treesOf(key: string, grafting: readonly Entry[], log: Log): Set<string> {
  const trees = new Set<string>();
  const declared = log.names.declared(key);
  for (const entry of [...grafting, ...(declared?.kind === 'batch' ? [declared.entry] : [])]) {
    const tree = namedIn(factOf(entry.line.statement, 'onto'));
    if (tree) trees.add(tree.key);
  }
  return trees;
}

/** What counts for the whole of a day is read after the grafts of that day are made. */
function graftsFirst(events: Event[]): Event[] {
  const last = new Map<Day, number>();
  events.forEach((event, i) => {
    if (event.statement.verb === 'graft') last.set(event.day, i);
  });
  const waiting = new Map<Day, Event[]>();
  const ordered: Event[] = [];
  events.forEach((event, i) => {
    const grafts = last.get(event.day);
    if (grafts !== undefined && i < grafts && event.via === 'set' && wholeDay.has(event.statement.verb)) {
      waiting.set(event.day, [...(waiting.get(event.day) ?? []), event]);
      return;
    }
    ordered.push(event);
    if (i === grafts) ordered.push(...(waiting.get(event.day) ?? []));
  });
  return ordered;
}

/** Numbers that a `practice` or `accept` line names alone: its grafts are asked for by themselves. */
function bordersOf(lines: readonly Entry[], key: string): Intervals[] {
  const borders: Intervals[] = [];
  for (const {
    line: { statement },
  } of lines) {
    if (statement?.verb !== 'practice' && statement?.verb !== 'accept') continue;
    for (const scope of statement.scopes ?? []) {
      if (scope.kind === 'set' && scope.set.name.key === key && scope.set.numbers) borders.push(scope.set.numbers);
    }
  }
  return borders;
}

/** Names that stand on the batch's lines: whether they are declared, and as what, decides how the line is read. */
function namesBeside(lines: readonly Entry[]): string[] {
  const names: string[] = [];
  for (const {
    line: { statement },
  } of lines) {
    for (const key of ['in', 'to', 'lot', 'onto'] as const) {
      const name = namedIn(factOf(statement, key));
      if (name) names.push(name.key);
    }
  }
  return names;
}

/** What is done to a tree is done to every living graft on it. */
function applyTree(book: Book, event: Event): void {
  const { statement, entry, tree } = event;
  const to = statement.verb === 'move' ? namedIn(factOf(statement, 'to')) : undefined;
  if (to) book.depends.add(to.key);
  for (const cohort of book.cohorts) {
    if (cohort.fail || cohort.stays.at(-1)?.tree !== tree || cohort.named.at(-1)?.entry === entry) continue;
    cohort.named.push(event);
    if (to && tree !== undefined) cohort.stays.push(treeStay(tree, event, to.key, book.log));
    if (statement.verb === 'fail') failed(cohort, event, 'stock');
    if (statement.verb === 'sell') sold(cohort, event);
  }
}

function sorted(cohorts: readonly Growing[]): Growing[] {
  const line = new Map<Entry, number>();
  for (const { origin } of cohorts) if (!line.has(origin.made)) line.set(origin.made, line.size);
  const lineOf = (cohort: Growing) => line.get(cohort.origin.made) ?? 0;
  return cohorts
    .filter((cohort) => size(cohort.numbers) > 0)
    .toSorted((a, b) => lineOf(a) - lineOf(b) || (a.numbers[0] as number) - (b.numbers[0] as number));
}
