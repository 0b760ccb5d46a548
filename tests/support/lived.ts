import type { Intervals } from '#grammar/statement.ts';
import { intersect } from '#grammar/values/intervals.ts';
import { allKeys } from '#grammar/vocabulary.ts';
import type { LogView } from '#server/engine/engine.ts';
import type { BatchHistory, Cohort, Visit } from '#server/engine/model.ts';

/**
 * What every graft of a log lived through, graft by graft, whatever lines and cohorts it is told by: two logs that give
 * the same say the same of each of their grafts.
 */
export function lived(view: LogView): string[] {
  return [...view.batches()].sort().flatMap((batch) => livedIn(view.history(batch)));
}

function livedIn(history: BatchHistory): string[] {
  const grafts = history.cohorts.flatMap((cohort) =>
    numbersIn(cohort.numbers).map((number) => `${history.batch.key}.${number} ${graftText(cohort, number, history)}`),
  );
  const tallies = history.tallies.map(({ over, verb, count, day, cause }) =>
    JSON.stringify([history.batch.key, over, verb, count, day, cause]),
  );
  return [...grafts.sort(), ...tallies];
}

function numbersIn(numbers: Intervals): number[] {
  const found: number[] = [];
  for (let i = 0; i < numbers.length; i += 2)
    for (let n = numbers[i] as number; n <= (numbers[i + 1] as number); n++) found.push(n);
  return found;
}

function graftText(cohort: Cohort, number: number, history: BatchHistory): string {
  const { madeDay, method, scion, interstem, stock, hand, potted, swell, free, take, fail, sold, untied } = cohort;
  const facts = allKeys.flatMap((key) => {
    const fact = cohort.fact(key)?.fact;
    return fact ? [[key, fact.value, fact.lost]] : [];
  });
  return plain([
    [madeDay, cohort.made.minute, method, scion?.text, interstem?.text, stock?.text, hand, potted],
    facts,
    cohort.named.map((visit) => visitText(visit, number, history)),
    cohort.stays.map(({ day, place, tree, unknown }) => [day, place, tree, unknown]),
    [swell, free, take, fail?.day, fail?.cause, sold, untied],
    [cohort.share, cohort.headback, cohort.severed, cohort.undivided, cohort.counted],
  ]);
}

/** What a line told of this very graft. What it was made with stands among its facts already. */
function visitText(
  { verb, day, entry, statement, via, undivided }: Visit,
  number: number,
  { batch }: BatchHistory,
): unknown[] {
  const facts = verb === 'graft' ? [] : statement.facts.map(({ key, value, lost }) => [key, value, lost]);
  const sets = statement.sets.filter(({ name }) => name.key === batch.key);
  const meant = sets.some((set) => !set.numbers || intersect(set.numbers, [number, number]).length > 0);
  return [verb, day, entry.minute, via, undivided, facts, statement.remark?.text, via === 'set' ? meant : undefined];
}

const plain = (value: unknown): string =>
  JSON.stringify(value, (key, inner) => (key === 'span' || key.endsWith('Span') ? undefined : inner));
