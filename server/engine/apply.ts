import type { Day, SetRef } from '#grammar/statement.ts';
import { intersect, size, union } from '#grammar/values/intervals.ts';
import { type Book, type Event, numbersOf, related } from './book.ts';
import type { Growing } from './cohort.ts';
import { counted } from './count.ts';
import { factOf, namedIn, shareOf, wordIn } from './facts.ts';
import { graftsText, graftsWords } from './grafts-text.ts';
import type { Finding, Stay, Visit } from './model.ts';
import { dayText, percent } from './say.ts';
import { select } from './select.ts';
import { settle } from './settle.ts';
import { placeStay } from './stays.ts';

/** Smaller than any share a hand writes: 1/3 and 33.333333 % are the same step. */
const hair = 1e-6;

/** What one line of work does to a batch's grafts. */
export function applySets(book: Book, event: Event): void {
  const { statement } = event;
  let already: Growing['numbers'] = [];
  for (const set of statement.sets) {
    if (set.name.key !== book.key) continue;
    const meant = select(book, event, set, already);
    if (meant.length === 0) continue;
    // `open K26 K26.3 20%` means K26.3 once
    if (statement.sets.length > 1) already = union(already, numbersOf(meant));
    const named = counted(book, event, set, meant);
    if (named.length > 0) work(book, event, set, named);
  }
}

function work(book: Book, event: Event, set: SetRef, meant: readonly Growing[]): void {
  const { statement, day } = event;
  for (const cohort of meant) {
    cohort.named.push(event);
    if (cohort.vague.has(statement.verb)) cohort.vague = without(cohort.vague, statement.verb);
  }
  switch (statement.verb) {
    case 'swell':
      for (const cohort of meant) cohort.swell ??= day;
      break;
    case 'free':
      for (const cohort of meant) {
        cohort.free ??= day;
        cohort.swell ??= day;
        cohort.vague = without(cohort.vague, 'swell', 'open');
      }
      break;
    case 'open':
      opened(book, event, meant);
      break;
    case 'rewrap':
      for (const cohort of meant) cohort.share = 0;
      break;
    case 'untie':
      untied(book, event, set, meant);
      break;
    case 'retie':
      for (const cohort of meant) {
        cohort.untied = undefined;
        cohort.untiedBy = undefined;
      }
      break;
    case 'headback':
    case 'sever':
      further(book, event, set, meant, statement.verb);
      break;
    case 'move':
      moved(book, event, set, meant);
      break;
    case 'take':
      for (const cohort of meant) {
        if (cohort.take === undefined || cohort.counted) taken(cohort, day);
      }
      settle(book);
      break;
    case 'fail':
      for (const cohort of meant) failed(cohort, event, wordIn(factOf(statement, 'cause')) ?? 'unknown');
      settle(book);
      break;
    case 'sell':
      for (const cohort of meant) sold(cohort, event);
      break;
    default:
  }
}

function taken(cohort: Growing, day: Day): void {
  // settled by counts before: the day it was first said holds
  cohort.take ??= day;
  cohort.tallied = false;
  cohort.vague = nothing;
}

export function failed(cohort: Growing, event: Event, cause: string): void {
  // settled by counts it was one of the living; that it was one of the taken nobody said
  if (cohort.counted) cohort.take = undefined;
  cohort.fail ??= { day: event.day, cause, entry: event.entry };
  cohort.tallied = false;
  cohort.counted = undefined;
  cohort.vague = nothing;
}

export function sold(cohort: Growing, event: Event): void {
  cohort.sold ??= event.day;
  cohort.soldBy ??= event.entry;
}

const nothing: Growing['vague'] = new Set();

function without(vague: Growing['vague'], ...verbs: Visit['verb'][]): Growing['vague'] {
  return vague.size === 0 ? vague : new Set([...vague].filter((verb) => !verbs.includes(verb)));
}

function opened(book: Book, event: Event, meant: readonly Growing[]): void {
  const share = shareOf(event.statement);
  if (share === undefined) return;
  const shrunk = meant.filter((cohort) => share < cohort.share - hair);
  for (const cohort of meant) {
    if (shrunk.includes(cohort)) continue;
    cohort.share = Math.max(share, cohort.share);
    cohort.openedBy = event.entry;
  }
  for (const some of alike(shrunk, (cohort) => cohort.openedBy)) {
    const [first] = some;
    if (!first?.openedBy) continue;
    const set = graftsWords(book.facts.batch, numbersOf(some));
    const fact = factOf(event.statement, 'share');
    const sum = first.share + share;
    book.findings.push({
      ...base(book, event, some),
      code: 'wrap-shrank',
      span: fact?.valueSpan ?? event.statement.verbSpan,
      message: `The wrap of ${set} was ${percent(first.share)} open on ${dayText(first.openedBy.day as Day, event.day)}, and here it is ${percent(share)}: write how far it is now.`,
      related: [related(first.openedBy, `${percent(first.share)} open.`)],
      mends: [
        ...(fact && sum <= 1
          ? [
              {
                title: `Make it ${shareText(sum, textOf(event, fact.valueSpan))}`,
                edits: [{ span: fact.valueSpan, text: shareText(sum, textOf(event, fact.valueSpan)) }],
              },
            ]
          : []),
        ...(sum > 0
          ? [
              {
                title: 'Write the rewrap above',
                edits: [
                  {
                    entry: event.entry,
                    where: 'above' as const,
                    text: `${dateOf(event)}rewrap ${graftsText(book.facts.batch, numbersOf(some))}`,
                  },
                ],
              },
            ]
          : []),
      ],
    });
  }
}

function untied(book: Book, event: Event, set: SetRef, meant: readonly Growing[]): void {
  const twice = meant.filter((cohort) => cohort.untied !== undefined && !retiedLater(book, event, cohort));
  for (const cohort of meant) {
    if (twice.includes(cohort)) continue;
    cohort.untied = event.day;
    cohort.untiedBy = event.entry;
  }
  for (const some of alike(twice, (cohort) => cohort.untiedBy)) {
    const before = some[0]?.untiedBy;
    if (!before) continue;
    book.findings.push({
      ...base(book, event, some),
      code: 'contradiction',
      span: set.span,
      message: `${graftsWords(book.facts.batch, numbersOf(some))} ${size(numbersOf(some)) === 1 ? 'was' : 'were'} untied on ${dayText(before.day as Day, event.day)} and not tied again: a \`retie\` comes between.`,
      related: [related(before, 'Untied here.')],
    });
  }
}

/** A `retie` counts for the whole of its day, so it may stand below the `untie` it answers. */
function retiedLater(book: Book, event: Event, cohort: Growing): boolean {
  return book.events.some(
    ({ statement, day }) =>
      day === event.day &&
      statement.verb === 'retie' &&
      statement.sets.some(
        (set) => set.name.key === book.key && (!set.numbers || intersect(set.numbers, cohort.numbers).length > 0),
      ),
  );
}

/** Every share is how far it is now, so it rises each time. */
function further(book: Book, event: Event, set: SetRef, meant: readonly Growing[], verb: 'headback' | 'sever'): void {
  const fact = factOf(event.statement, 'share');
  if (fact?.lost) return;
  const share = shareOf(event.statement) ?? 1;
  const [key, by] = verb === 'headback' ? (['headback', 'headbackBy'] as const) : (['severed', 'severedBy'] as const);
  const stuck: Growing[] = [];
  for (const cohort of meant) {
    // up to and on the grafting day it prepares the stock and counts for nothing
    if (verb === 'headback' && event.day <= cohort.madeDay) continue;
    if (share <= cohort[key] + hair) stuck.push(cohort);
    else {
      cohort[key] = share;
      cohort[by] = event.entry;
    }
  }
  for (const some of alike(stuck, (cohort) => cohort[by])) {
    const before = some[0]?.[by];
    const done = some[0]?.[key];
    if (!before || done === undefined) continue;
    const written = fact ? textOf(event, fact.valueSpan) : '';
    const earlier = factOf(before.line.statement, 'share');
    const now = earlier ? before.line.text.slice(earlier.valueSpan.start, earlier.valueSpan.end) : percent(done);
    const sum = shareText(done + share, written);
    const possible = fact && done + share <= 1 + hair;
    book.findings.push({
      ...base(book, event, some),
      code: 'contradiction',
      span: fact?.valueSpan ?? set.span,
      message: `${verb === 'headback' ? 'Headed back' : 'Severed'} to ${now} on ${dayText(before.day as Day, event.day)}, and ${written || 'through'} here: ${possible ? `if that is so much more, it is \`${sum}\` by now` : 'a share is how far it is now'}.`,
      related: [related(before, `${now} by then.`)],
      ...(possible ? { mends: [{ title: `Make it ${sum}`, edits: [{ span: fact.valueSpan, text: sum }] }] } : {}),
    });
  }
}

function moved(book: Book, event: Event, set: SetRef, meant: readonly Growing[]): void {
  const to = namedIn(factOf(event.statement, 'to'));
  if (!to) return;
  book.depends.add(to.key);
  const onTree = meant.filter((cohort) => cohort.stays.at(-1)?.tree !== undefined && cohort.severed < 1 - hair);
  const stay: Stay = placeStay(to.key, event, book.log);
  for (const cohort of meant) if (!onTree.includes(cohort)) cohort.stays.push(stay);
  for (const some of alike(onTree, (cohort) => cohort.origin.made)) {
    const key = some[0]?.stays.at(-1)?.tree;
    const tree = key === undefined ? undefined : (book.log.names.declared(key)?.name ?? key);
    book.findings.push({
      ...base(book, event, some),
      code: 'contradiction',
      span: set.span,
      message: `${graftsWords(book.facts.batch, numbersOf(some))} ${size(numbersOf(some)) === 1 ? 'stands' : 'stand'} on \`${tree}\` and can’t move without it: \`move ${tree}\`, or \`sever\` first.`,
      ...(some[0] ? { related: [related(some[0].origin.made, `Grafted onto \`${tree}\`.`)] } : {}),
    });
  }
}

type Base = Pick<Finding, 'severity' | 'entry' | 'grafts'>;
const base = (book: Book, event: Event, some: readonly Growing[]): Base => ({
  severity: 'error',
  entry: event.entry,
  grafts: graftsText(book.facts.batch, numbersOf(some)),
});

/** Cohorts by the earlier line they clash with: one finding for each such line. */
function alike<K>(cohorts: readonly Growing[], key: (cohort: Growing) => K): Growing[][] {
  const groups = new Map<K, Growing[]>();
  for (const cohort of cohorts) groups.set(key(cohort), [...(groups.get(key(cohort)) ?? []), cohort]);
  return [...groups.values()];
}

const textOf = (event: Event, span: { start: number; end: number }): string =>
  event.entry.line.text.slice(span.start, span.end);
const dateOf = ({ entry }: Event): string =>
  entry.line.date ? `${textOf({ entry } as Event, entry.line.date.span)} ` : '';

/** A share as the hand wrote the one beside it: in its fraction's parts, else in per cent. */
function shareText(share: number, like: string): string {
  const parts = Number(/^\d+\/(\d+)$/.exec(like.trim())?.[1] ?? 0);
  const over = share * parts;
  if (parts > 0 && Math.abs(over - Math.round(over)) < hair)
    return Math.round(over) === parts ? '100%' : `${Math.round(over)}/${parts}`;
  return `${Math.round(share * 100)}%`;
}
