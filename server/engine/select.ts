import type { Span } from '#grammar/finding.ts';
import type { Day, Intervals, SetRef } from '#grammar/statement.ts';
import { intersect, intervalsText, size, subtract, union } from '#grammar/values/intervals.ts';
import type { Verb } from '#grammar/vocabulary.ts';
import {
  afterSale,
  type Book,
  beforehand,
  type Event,
  leaveOut,
  numbersOf,
  planOf,
  related,
  undatedNumbers,
  wholeDay,
} from './book.ts';
import { type Growing, splitOff } from './cohort.ts';
import { graftsText, graftsWords } from './grafts-text.ts';
import type { Entry, Finding } from './model.ts';
import { dayText } from './say.ts';

/** The cohorts a set of a line means that day, split so that each is meant as a whole; what it can't mean is reported. */
export function select(book: Book, event: Event, set: SetRef, already: Intervals): Growing[] {
  const meant = set.numbers ? named(book, event, set, set.numbers) : whole(book, event, set);
  const less = excepted(book, event, set);
  const wholly = less.length === 0 && already.length === 0;
  const cohorts = wholly ? meant : splitOff(book.cohorts, subtract(subtract(numbersOf(meant), less), already));
  return set.rest ? cohorts.filter((cohort) => !judged(cohort)) : cohorts;
}

const judged = (cohort: Growing): boolean => cohort.take !== undefined || cohort.fail !== undefined;

/** Numbers are taken at their word: each was made, lives, and is still here, or the line says something that can't be. */
function named(book: Book, event: Event, set: SetRef, numbers: Intervals): Growing[] {
  const { verb } = event.statement;
  if (book.facts.batch.counted) {
    unnumbered(book, event, set.span);
    return [];
  }
  const missing = subtract(numbers, book.made);
  if (missing.length > 0) notMade(book, event, set, missing);
  const meant = splitOff(book.cohorts, intersect(numbers, book.made));
  const gone = meant.filter((cohort) => !here(cohort, verb, event.day));
  // of a tray, so many: those lost before are no slip
  if (gone.length > 0 && !set.count && !set.rest) ended(book, event, set, gone);
  return meant.filter((cohort) => !gone.includes(cohort));
}

/** `K26` is every graft of K26 living that day. */
function whole(book: Book, event: Event, set: SetRef): Growing[] {
  const { verb } = event.statement;
  if (book.made.length === 0) {
    const planned = book.planned.find((plan) => plan.day !== undefined);
    const undated = book.planned.length > 0 && !planned;
    if (!beforehand.has(verb) && !undated) {
      book.findings.push({
        code: 'before-graft',
        severity: 'error',
        entry: event.entry,
        span: set.span,
        message: planned
          ? `Nothing of \`${set.name.text}\` is made yet: its first grafts ${planned.day === event.day ? 'come later that day' : `are of ${dayText(planned.day as Day, event.day)}`}.`
          : `Nothing of \`${set.name.text}\` is made yet: a \`graft\` line comes first.`,
        ...(planned ? { related: [related(planned.entry, 'Made here.')] } : {}),
      });
    }
    return [];
  }
  const living = book.cohorts.filter((cohort) => !cohort.fail && (cohort.sold === undefined || afterSale.has(verb)));
  const sameDay = wholeDay.has(verb) && book.cohorts.some((cohort) => here(cohort, verb, event.day));
  if (living.length === 0 && !set.rest && !set.count && !sameDay) {
    const last = lastEnd(book.cohorts);
    book.findings.push({
      code: 'after-end',
      severity: 'error',
      entry: event.entry,
      span: set.span,
      message: `Nothing is left of \`${set.name.text}\`: ${last?.sold ? 'the last were sold' : 'the last were lost'} on ${dayText(last?.day ?? event.day, event.day)}.`,
      ...(last ? { related: [related(last.entry, last.sold ? 'Sold here.' : 'Lost here.')] } : {}),
    });
  }
  return living;
}

/** Lives and is ours that day, as far as the verb asks; what counts for the whole day may stand below the end. */
function here(cohort: Growing, verb: Verb, day: Day): boolean {
  const sameDay = wholeDay.has(verb);
  if (cohort.fail) return sameDay && cohort.fail.day === day;
  if (cohort.sold === undefined || afterSale.has(verb)) return true;
  return sameDay && cohort.sold === day;
}

function notMade(book: Book, event: Event, set: SetRef, missing: Intervals): void {
  const { verb } = event.statement;
  let rest = subtract(missing, undatedNumbers(book));
  let later: Intervals = [];
  for (const plan of book.planned) if (plan.day !== undefined) later = union(later, intersect(plan.numbers, rest));
  rest = subtract(rest, later);
  if (later.length > 0 && !beforehand.has(verb)) {
    const plan = planOf(book, later);
    report(book, event, set, later, {
      code: 'before-graft',
      message: `${words(book, later)} ${are(later)} made on ${dayText(plan?.day ?? event.day, event.day)}, and this line stands before that.`,
      ...(plan ? { related: [related(plan.entry, 'Made here.')] } : {}),
    });
  }
  // understocks are prepared under the numbers that are to come
  const preparing = beforehand.has(verb) && book.made.length === 0;
  const unknown = !book.log.names.declared(book.key) && book.planned.length === 0;
  if (rest.length === 0 || preparing || unknown) return;
  const made = book.planned.reduce<Intervals>((all, plan) => union(all, plan.numbers), []);
  const before = book.neverMade;
  book.neverMade = { numbers: union(before?.numbers ?? [], rest), entry: before?.entry ?? event.entry };
  // one slip in a `graft` line is one error; lines that follow from it only lead back
  if (before && (made.length === 0 || subtract(rest, before.numbers).length === 0)) {
    report(book, event, set, rest, {
      code: 'unknown-graft',
      severity: 'hint',
      message: `${words(book, rest)} ${were(rest)} never made, as told before: this line counts once a \`graft\` line names ${size(rest) === 1 ? 'it' : 'them'}.`,
      related: [related(before.entry, 'Told here.')],
    });
    return;
  }
  report(book, event, set, rest, {
    code: 'unknown-graft',
    message:
      made.length === 0
        ? `${words(book, rest)} ${were(rest)} never made: no \`graft\` line names \`${set.name.text}\`.`
        : `${words(book, rest)} ${were(rest)} never made: \`${set.name.text}\` has ${shortNumbers(made)}.`,
  });
}

function ended(book: Book, event: Event, set: SetRef, gone: readonly Growing[]): void {
  for (const sold of [false, true]) {
    const some = gone.filter((cohort) => (cohort.fail === undefined) === sold);
    const [first] = some;
    if (!first) continue;
    const numbers = numbersOf(some);
    const day = (sold ? first.sold : first.fail?.day) as Day;
    const by = sold ? first.soldBy : first.fail?.entry;
    report(book, event, set, numbers, {
      code: 'after-end',
      message: `${words(book, numbers)} ${were(numbers)} ${sold ? 'sold' : 'lost'} on ${dayText(day, event.day)}${sold ? ': after it only `check`, `take` and `fail` are said' : ''}.`,
      ...(by ? { related: [related(by, sold ? 'Sold here.' : 'Lost here.')] } : {}),
    });
  }
}

function unnumbered(book: Book, event: Event, span: Span): void {
  const { name } = book.facts.batch;
  book.findings.push({
    code: 'unknown-graft',
    severity: 'error',
    entry: event.entry,
    span,
    message: `The grafts of \`${name}\` were counted, not numbered: write \`${name}\`, or how many, \`${name} x4\`.`,
  });
}

/** What `except` takes off; numbers in it that were never made are a slip like any other. */
function excepted(book: Book, event: Event, set: SetRef): Intervals {
  let less: Intervals = [];
  for (const except of set.except ?? []) {
    if (except.name.key !== book.key) {
      book.findings.push({
        code: 'contradiction',
        severity: 'error',
        entry: event.entry,
        span: except.span,
        message: `\`${except.name.text}\` is no part of \`${set.name.text}\`: \`except\` takes grafts off its own set.`,
      });
      continue;
    }
    if (book.facts.batch.counted) {
      unnumbered(book, event, except.span);
      continue;
    }
    const unknown = subtract(
      subtract(
        except.numbers,
        book.planned.reduce<Intervals>((all, plan) => union(all, plan.numbers), []),
      ),
      book.made,
    );
    if (unknown.length > 0 && book.planned.length > 0)
      book.findings.push({
        code: 'unknown-graft',
        severity: 'error',
        entry: event.entry,
        span: except.span,
        message: `${words(book, unknown)} ${were(unknown)} never made.`,
        grafts: graftsText(book.facts.batch, unknown),
      });
    less = union(less, except.numbers);
  }
  return less;
}

function report(
  book: Book,
  event: Event,
  set: SetRef,
  numbers: Intervals,
  told: Pick<Finding, 'code' | 'message' | 'related'> & Partial<Pick<Finding, 'severity'>>,
): void {
  const mend = leaveOut(event.entry, set, numbers, words(book, numbers));
  book.findings.push({
    severity: 'error',
    entry: event.entry,
    span: set.span,
    ...told,
    ...(numbers.length > 0 ? { grafts: graftsText(book.facts.batch, numbers) } : {}),
    ...(mend ? { mends: [mend] } : {}),
  });
}

function lastEnd(
  cohorts: readonly Growing[],
): { readonly day: Day; readonly entry: Entry; readonly sold: boolean } | undefined {
  let last: { day: Day; entry: Entry; sold: boolean } | undefined;
  for (const { fail, sold, soldBy } of cohorts) {
    if (fail && fail.day >= (last?.day ?? fail.day)) last = { day: fail.day, entry: fail.entry, sold: false };
    else if (!fail && sold !== undefined && soldBy && sold >= (last?.day ?? sold))
      last = { day: sold, entry: soldBy, sold: true };
  }
  return last;
}

const words = (book: Book, numbers: Intervals): string => graftsWords(book.facts.batch, numbers);
const were = (numbers: Intervals): string => (size(numbers) === 1 ? 'was' : 'were');
const are = (numbers: Intervals): string => (size(numbers) === 1 ? 'is' : 'are');

function shortNumbers(numbers: Intervals): string {
  const text = intervalsText(numbers);
  return text.length <= 30 ? text : `numbers ${numbers[0]} to ${numbers.at(-1)}, not all of them`;
}
