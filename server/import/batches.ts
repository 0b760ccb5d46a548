import type { Intervals } from '#grammar/statement.ts';
import { fromDay } from '#grammar/values/date.ts';
import { largestNumber } from '#grammar/values/graft-set.ts';
import type { Key } from '#grammar/vocabulary.ts';
import type { Made, MadeFact } from './model.ts';
import type { Names } from './names.ts';
import { remarksOf } from './remarks.ts';
import { takenNumbers } from './taken-numbers.ts';

/** Rows of one batch, each with its grafts. */
export interface Batch {
  readonly name: string;
  /** On the batch's line, as every row has them. */
  readonly taxa?: string;
  readonly facts: readonly MadeFact[];
  /** Those all its rows have. */
  readonly remarks: readonly string[];
  readonly rows: readonly BatchRow[];
  /** The sheet has no numbers: they were given row by row. */
  readonly given: boolean;
}

export interface BatchRow {
  readonly made: Made;
  /** Absent where the batch is counted: one row, so many grafts. */
  readonly numbers?: Intervals;
  /** What the batch's line doesn't say already. */
  readonly taxa?: string;
  readonly facts: readonly MadeFact[];
  readonly remarks: readonly string[];
}

/** Facts that belong to the batch where all its rows agree; the others are of each sitting. */
const ofBatch: ReadonlySet<Key> = new Set<Key>(['method', 'long', 'short', 'film', 'bag', 'tie', 'wax', 'wood', 'in']);

/** Rows put together by batch, and those that don't fit in theirs, with the reason. */
export function batchesOf(
  rows: readonly Made[],
  names: Names,
): { readonly batches: readonly Batch[]; readonly left: readonly { readonly made: Made; readonly why: string }[] } {
  const groups = new Map<string, Made[]>();
  for (const made of rows) {
    const name = made.batch === undefined ? derivedName(made, names) : names.nameOf('batch', made.batch);
    const group = groups.get(name);
    if (group) group.push(made);
    else groups.set(name, [made]);
  }
  const left: { made: Made; why: string }[] = [];
  const batches = [...groups].map(([name, group]) => batchOf(name, group, (made, why) => left.push({ made, why })));
  return { batches: batches.filter((batch) => batch.rows.length > 0), left };
}

/** Rows of one pair, method and year are one batch: `P24`, as a grower would call it. */
function derivedName({ taxa, facts, day }: Made, names: Names): string {
  const initial = /\p{Lu}/u.exec(taxa ?? '')?.[0] ?? 'B';
  const method = facts.find(({ key }) => key === 'method')?.text ?? '';
  const { year } = fromDay(day);
  return names.derive(`${taxa ?? ''}\n${method}\n${year}`, `${initial}${String(year).slice(-2)}`);
}

function batchOf(name: string, group: readonly Made[], leave: (made: Made, why: string) => void): Batch {
  const numbered = group.some(({ numbers }) => numbers !== undefined);
  const [only] = group;
  if (!numbered && group.length === 1 && only?.count !== undefined) return shared(name, [{ made: only }], false);
  const rows: { made: Made; numbers: Intervals }[] = [];
  const used = takenNumbers();
  let next = 1;
  for (const made of group) {
    if (numbered && !made.numbers) {
      leave(made, `it has no number, and other grafts of ${name} have one`);
      continue;
    }
    const numbers = made.numbers ?? [next, next + (made.count ?? 1) - 1];
    if ((numbers.at(-1) ?? 0) > largestNumber) {
      leave(made, `${name} would have more than ${largestNumber.toLocaleString('en')} grafts`);
      continue;
    }
    const twice = used.take(numbers, made.row.row);
    if (twice) {
      leave(made, `${name}.${twice.number} stands in row ${twice.row} already`);
      continue;
    }
    next = (numbers.at(-1) ?? 0) + 1;
    rows.push({ made, numbers });
  }
  return shared(name, rows, !numbered);
}

/** What all rows have alike goes up to the batch. */
function shared(name: string, rows: readonly { made: Made; numbers?: Intervals }[], given: boolean): Batch {
  const [first] = rows;
  const taxa = rows.every(({ made }) => made.taxa === first?.made.taxa) ? first?.made.taxa : undefined;
  const facts =
    first?.made.facts.filter(
      ({ key, text }) =>
        ofBatch.has(key) && rows.every(({ made }) => made.facts.some((fact) => fact.key === key && fact.text === text)),
    ) ?? [];
  const up = new Set<Key>(facts.map(({ key }) => key));
  const remarks = commonRemarks(rows.map(({ made }) => made.remarks));
  return {
    name,
    ...(taxa === undefined ? {} : { taxa }),
    facts,
    remarks: [...remarks],
    given,
    rows: rows.map(({ made, numbers }) => ({
      made,
      ...(numbers ? { numbers } : {}),
      ...(taxa === undefined && made.taxa !== undefined ? { taxa: made.taxa } : {}),
      facts: made.facts.filter(({ key }) => !up.has(key)),
      remarks: made.remarks.filter((remark) => !remarks.has(remark)),
    })),
  };
}

/** Remarks that every row has: said once, if they fit the batch's line. */
function commonRemarks(rows: readonly (readonly string[])[]): ReadonlySet<string> {
  const [first = [], ...others] = rows;
  if (others.length === 0) return new Set();
  const sets = others.map((remarks) => new Set(remarks));
  const common = first.filter((remark) => sets.every((set) => set.has(remark)));
  return new Set(remarksOf(common).below.length === 0 ? common : []);
}
