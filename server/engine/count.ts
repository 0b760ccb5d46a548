import type { SetRef } from '#grammar/statement.ts';
import { size } from '#grammar/values/intervals.ts';
import { type Book, type Event, numbersOf, related } from './book.ts';
import type { Growing } from './cohort.ts';
import { factOf, wordIn } from './facts.ts';
import { graftsText, graftsWords } from './grafts-text.ts';
import type { Tally, Visit } from './model.ts';
import { settle } from './settle.ts';
import { countedIn, poolsOf } from './tally.ts';

/**
 * Takes care of what a line says of some of a set without naming them, and returns the cohorts it does name. A count
 * as large as its set names all of it.
 */
export function counted(book: Book, event: Event, set: SetRef, meant: readonly Growing[]): readonly Growing[] {
  if (set.count) return counts(book, event, set, meant);
  const among = set.rest ? meant.filter((cohort) => cohort.tallied) : [];
  if (among.length === 0) return meant;
  restOfCounted(book, event, among);
  return meant.filter((cohort) => !among.includes(cohort));
}

function counts(book: Book, event: Event, set: SetRef, all: readonly Growing[]): readonly Growing[] {
  const { verb } = event.statement;
  // a count of takes speaks of grafts not taken yet, so that counts add up
  const meant = verb === 'take' ? all.filter((cohort) => cohort.take === undefined || cohort.counted) : all;
  const numbers = numbersOf(meant);
  const judged = numbersOf(
    book.cohorts.filter((cohort) => !cohort.counted && (cohort.fail !== undefined || cohort.take !== undefined)),
  );
  const lost = numbersOf(book.cohorts.filter((cohort) => cohort.fail !== undefined && !cohort.counted));
  const failed = countedIn(book.tallies, 'fail', numbers, judged);
  const others =
    verb === 'take' || verb === 'sell' ? countedIn(book.tallies, verb, numbers, verb === 'take' ? judged : lost) : 0;
  const there = size(numbers) - failed - others;
  const count = set.count?.value ?? 0;
  if (count > there) {
    exceeds(book, event, set, meant, there, failed + others);
    return [];
  }
  if (count === there && failed + others === 0) return meant;
  const undivided: Visit = { ...event, undivided: true };
  for (const cohort of meant) cohort.named.push(undivided);
  if (verb === 'take' || verb === 'fail' || verb === 'sell') tally(book, event, meant, verb, count);
  else for (const cohort of meant) cohort.vague = new Set([...cohort.vague, verb]);
  return [];
}

function tally(book: Book, event: Event, meant: readonly Growing[], verb: Tally['verb'], count: number): void {
  const { entry, day, statement } = event;
  book.tallies.push({
    over: numbersOf(meant),
    verb,
    count,
    day,
    entry,
    ...(verb === 'fail' ? { cause: wordIn(factOf(statement, 'cause')) ?? 'unknown' } : {}),
  });
  if (verb === 'take') for (const cohort of meant) cohort.tallied = true;
  settle(book);
}

/** `rest` of grafts that were counted: as many as are still to judge, pool by pool. Which they are stays open. */
function restOfCounted(book: Book, event: Event, among: readonly Growing[]): void {
  const { verb } = event.statement;
  const undivided: Visit = { ...event, undivided: true };
  for (const pool of poolsOf(
    book.cohorts.filter((cohort) => !cohort.fail && (cohort.take === undefined || cohort.counted)),
    book.tallies,
  )) {
    const meant = pool.cohorts.filter((cohort) => among.includes(cohort));
    if (meant.length === 0) continue;
    for (const cohort of meant) cohort.named.push(undivided);
    const numbers = numbersOf(pool.cohorts);
    const open =
      pool.size - countedIn(pool.tallies, 'fail', numbers, []) - countedIn(pool.tallies, 'take', numbers, []);
    const told = verb === 'take' || verb === 'fail' || verb === 'sell';
    if (!told || meant.length < pool.cohorts.length)
      for (const cohort of meant) cohort.vague = new Set([...cohort.vague, verb]);
    else if (open > 0) tally(book, event, meant, verb, open);
  }
}

function exceeds(
  book: Book,
  event: Event,
  set: SetRef,
  meant: readonly Growing[],
  there: number,
  before: number,
): void {
  const words = set.numbers ? graftsWords(book.facts.batch, set.numbers) : set.name.text;
  const last = book.tallies.at(-1);
  const verbs = { take: 'still to judge', sell: 'still here' } as const;
  const verb = event.statement.verb as keyof typeof verbs;
  book.findings.push({
    code: 'count-exceeds',
    severity: 'error',
    entry: event.entry,
    span: set.count?.span ?? set.span,
    message: `${set.count?.value} of ${words}: ${there === 0 ? 'none are' : there === 1 ? 'one is' : `${there} are`} ${verbs[verb] ?? 'alive'} that day, so this count takes no part.`,
    grafts: graftsText(book.facts.batch, numbersOf(meant)),
    ...(before > 0 && last ? { related: [related(last.entry, `Counted here: ${last.count}.`)] } : {}),
    ...(there > 0 && set.count
      ? { mends: [{ title: `Make it x${there}`, edits: [{ span: set.count.span, text: `x${there}` }] }] }
      : {}),
  });
}
