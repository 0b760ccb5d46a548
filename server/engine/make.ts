import type { Intervals } from '#grammar/statement.ts';
import { intersect, intervalsText, size, subtract, union } from '#grammar/values/intervals.ts';
import { type Book, type Event, leaveOut, planOf, related } from './book.ts';
import { Growing, splitOff } from './cohort.ts';
import { factOf } from './facts.ts';
import { graftsText, graftsWords } from './grafts-text.ts';
import type { Entry, Finding } from './model.ts';
import { byHistory } from './order.ts';
import { originOf } from './origin.ts';
import { dayText } from './say.ts';
import { firstStays } from './stays.ts';

/** Grafts come into being: a cohort for the line, split where practice or `accept` lines name some of its numbers. */
export function make(book: Book, event: Event, borders: readonly Intervals[]): void {
  const { entry, statement } = event;
  const set = statement.sets.find(({ name }) => name.key === book.key);
  const planned = book.planned.find((plan) => plan.entry === entry);
  if (!set || !planned) return;
  const { batch } = book.facts;
  if (batch.counted === (set.numbers !== undefined)) {
    book.findings.push(bothWays(book, event));
    return;
  }
  if (set.numbers && set.count && set.count.value !== size(set.numbers)) {
    book.findings.push({
      code: 'contradiction',
      severity: 'error',
      entry,
      span: set.count.span,
      message: `${graftsWords(batch, set.numbers)} are ${size(set.numbers)}, and the count says ${set.count.value}: one of the two is a slip.`,
    });
  }
  const twice = intersect(planned.numbers, book.made);
  if (twice.length > 0) book.findings.push(madeTwice(book, event, twice));
  const numbers = subtract(planned.numbers, book.made);
  if (numbers.length === 0) return;
  const { origin, leaning } = originOf(entry, statement, book.facts, book.log);
  for (const name of leaning.depends) book.depends.add(name);
  for (const name of leaning.stores) book.stores.add(name);
  for (const finding of leaning.findings)
    if (!book.findings.some((other) => other.entry === finding.entry && other.span.start === finding.span.start))
      book.findings.push(finding);
  const gone = origin.tree === undefined ? undefined : treeEnd(book, origin.tree, entry);
  if (gone && origin.tree !== undefined) book.findings.push(onGoneTree(book, event, origin.tree, gone, numbers));
  const stays = firstStays(origin, event, book.log);
  for (const { place } of stays) if (place !== undefined) book.depends.add(place);
  const cohorts = [new Growing(numbers, batch, origin, event, stays, book.placeVisits)];
  for (const border of borders) splitOff(cohorts, border);
  book.cohorts.push(...cohorts);
  book.made = union(book.made, numbers);
}

function bothWays(book: Book, event: Event): Finding {
  const { batch } = book.facts;
  const first = book.planned.find((plan) => plan.day !== undefined && plan.entry !== event.entry);
  const set = event.statement.sets[0];
  return {
    code: 'contradiction',
    severity: 'error',
    entry: event.entry,
    span: set?.span ?? event.statement.verbSpan,
    message: batch.counted
      ? `\`${batch.name}\` is counted, and here it is numbered: a batch is one or the other.`
      : `\`${batch.name}\` is numbered, and here it is counted: a batch is one or the other.`,
    ...(first ? { related: [related(first.entry, batch.counted ? 'Counted here.' : 'Numbered here.')] } : {}),
  };
}

function madeTwice(book: Book, event: Event, twice: Intervals): Finding {
  const { batch } = book.facts;
  const set = event.statement.sets[0];
  const before = planOf(book, twice);
  const wanted = size(set?.numbers ?? []);
  const next = (book.planned.reduce((last, plan) => Math.max(last, plan.numbers.at(-1) ?? 0), 0) || 0) + 1;
  const free = `${set?.name.text}.${intervalsText([next, next + wanted - 1])}`;
  const left = set ? leaveOut(event.entry, set, twice, graftsWords(batch, twice)) : undefined;
  return {
    code: 'repeated-graft',
    severity: 'error',
    entry: event.entry,
    span: set?.span ?? event.statement.verbSpan,
    message: `${graftsWords(batch, twice)} ${size(twice) === 1 ? 'was' : 'were'} made on ${dayText(before?.day ?? event.day, event.day)}: numbers keep for life, and the next free one is ${next}.`,
    grafts: graftsText(batch, twice),
    ...(before ? { related: [related(before.entry, 'Made here.')] } : {}),
    mends: [
      ...(set ? [{ title: `Make it ${free}`.slice(0, 40), edits: [{ span: set.span, text: free }] }] : []),
      ...(left ? [left] : []),
    ],
  };
}

/** The line on which a tree was lost or sold, if that stands before this one. */
function treeEnd(book: Book, tree: string, at: Entry): Entry | undefined {
  return book.log.names.workOn(tree)?.all.find((entry) => {
    const verb = entry.line.statement?.verb;
    return (verb === 'fail' || verb === 'sell') && entry.day !== undefined && byHistory(entry, at) < 0;
  });
}

function onGoneTree(book: Book, event: Event, tree: string, gone: Entry, numbers: Intervals): Finding {
  const onto = factOf(event.statement, 'onto');
  const name = book.log.names.declared(tree)?.name ?? tree;
  return {
    code: 'after-end',
    severity: 'error',
    entry: event.entry,
    span: onto?.span ?? event.statement.verbSpan,
    message: `\`${name}\` was ${gone.line.statement?.verb === 'sell' ? 'sold' : 'lost'} on ${dayText(gone.day ?? event.day, event.day)}: nothing is grafted onto it after that.`,
    grafts: graftsText(book.facts.batch, numbers),
    related: [related(gone, 'Here.')],
  };
}
