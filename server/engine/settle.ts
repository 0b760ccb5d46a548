import { intersect } from '#grammar/values/intervals.ts';
import { type Book, numbersOf } from './book.ts';
import type { Growing } from './cohort.ts';
import { countedIn, poolsOf } from './tally.ts';

/**
 * Where counted takes and losses add up to all there are, what is left of the pool has one history again: everything
 * that lives is taken. Until then nobody knows which, and what has to know which is not asked.
 */
export function settle(book: Book): void {
  if (book.tallies.length === 0) return;
  const open = book.cohorts.filter((cohort) => !cohort.fail && cohort.take === undefined);
  for (const pool of poolsOf(open, book.tallies)) {
    const numbers = numbersOf(pool.cohorts);
    const judged = numbersOf(book.cohorts.filter((cohort) => !open.includes(cohort)));
    const failed = countedIn(pool.tallies, 'fail', numbers, judged);
    const taken = countedIn(pool.tallies, 'take', numbers, judged);
    if (failed + taken < pool.size) continue;
    for (const cohort of pool.cohorts) settled(book, cohort, taken > 0);
  }
}

function settled(book: Book, cohort: Growing, lives: boolean): void {
  const own = book.tallies.filter((tally) => intersect(cohort.numbers, tally.over).length > 0);
  const first = own.find((tally) => tally.verb === 'take');
  const last = own.findLast((tally) => tally.verb === 'fail');
  if (lives && first) cohort.take = first.day;
  else if (last) cohort.fail = { day: last.day, cause: last.cause ?? 'unknown', entry: last.entry };
  else return;
  cohort.counted = true;
  cohort.vague = new Set();
  cohort.tallied = false;
}
