import { readLine } from '#grammar/line.ts';
import type { Day, SetRef, Taxon } from '#grammar/statement.ts';
import { intersect, size, subtract, union } from '#grammar/values/intervals.ts';
import type { Answers } from './answers.ts';
import { namedIn } from './facts.ts';
import { graftsText, graftsWords } from './grafts-text.ts';
import type { Batch, BatchHistory, Cohort, Entry } from './model.ts';
import { livingOf } from './stage.ts';

/** What a label says of a graft, or of a tray of them. */
export interface Labelled {
  readonly batch: Batch;
  /** `K26.12`, `K26.1..40` of a tray; the batch’s name where grafts have no numbers. */
  readonly number: string;
  readonly count: number;
  /** Absent of grafts still to be made. */
  readonly made?: Day;
  readonly line?: Entry;
  readonly scion?: Taxon;
  readonly stock?: Taxon;
  /** The tree grafted on. */
  readonly onto?: string;
  /** `tray 1 of 6` */
  readonly tray?: string;
}

export interface LabelsFound {
  readonly labels: readonly Labelled[];
  /** What was left out, and why: a sentence each. */
  readonly remarks: readonly string[];
}

/** More would be no page that a browser prints. */
const mostLabels = 10_000;

/**
 * The grafts to label, by number: of a whole batch those living and here, of named ones those living, and those still
 * to be made.
 *
 * @param of a set as the log writes it, `K26.1..40`, `K26 except K26.13`, `S27 x40`
 * @param tray so many to a label
 * @returns a sentence where it can’t be read or names nothing
 */
export function labelled(answers: Answers, of: string, tray?: number): LabelsFound | string {
  const set = setIn(of);
  if (!set) return `${of} is no set of grafts: K26, K26.1..40 or K26 except K26.13 is one.`;
  const { names } = answers.log;
  if (!names.isBatch(set.name.key)) {
    const near = names.near(set.name.key, ['batch']);
    return `There is no batch ${set.name.text} in this log${near ? `: is it ${near.name}?` : '.'}`;
  }
  const { history } = answers.of(set.name.key);
  const found = history.batch.counted ? countedGrafts(history, set) : numbered(history, set);
  if (typeof found === 'string') return found;
  const total = found.sets.reduce((sum, { count }) => sum + count, 0);
  if (total > mostLabels && !tray) return `These are ${total} labels; at most ${mostLabels} go into a file.`;
  if (total === 0) return [`No graft of ${of} is left to label.`, ...found.remarks].join(' ');
  return { labels: tray ? trays(found.sets, tray) : each(found.sets), remarks: found.remarks };
}

/** The one set of a line of work on it. */
function setIn(of: string): SetRef | undefined {
  const { statement, problems, comment } = readLine(`check ${of}`);
  const [set, ...more] = statement?.sets ?? [];
  const plain = problems.length === 0 && !comment && statement?.facts.length === 0 && !statement.remark;
  return plain && more.length === 0 && !statement.spare ? set : undefined;
}

/** Grafts with the same on their labels but for the number. */
interface Alike extends Omit<Labelled, 'number' | 'tray'> {
  readonly numbers: readonly number[];
}

type Found = { readonly sets: readonly Alike[]; readonly remarks: readonly string[] } | string;

function numbered(history: BatchHistory, set: SetRef): Found {
  const { batch, cohorts } = history;
  if (set.count) return `${batch.name} has numbers: name them, ${batch.name}.1..${set.count.value}.`;
  const made = cohorts.reduce((all, cohort) => union(all, cohort.numbers), [] as readonly number[]);
  const less = (set.except ?? []).reduce((all, { numbers }) => union(all, numbers), [] as readonly number[]);
  const asked = subtract(set.numbers ?? made, less);
  const remarks: string[] = [];
  const lost = cohorts
    .filter(({ fail }) => fail)
    .reduce((all, cohort) => union(all, intersect(cohort.numbers, asked)), [] as readonly number[]);
  if (set.numbers && lost.length > 0)
    remarks.push(
      `${graftsWords(batch, lost)} ${size(lost) === 1 ? 'was lost and gets' : 'were lost and get'} no label.`,
    );
  const toCome = subtract(asked, made);
  if (!set.numbers && made.length === 0)
    return `Nothing of ${batch.name} is made yet: name the numbers, ${batch.name}.1..40.`;
  if (size(asked) > mostLabels) return `These are ${size(asked)} labels; at most ${mostLabels} go into a file.`;
  const sets = cohorts
    .filter((cohort) => !cohort.fail && (set.numbers || cohort.sold === undefined))
    .filter((cohort) => !set.rest || cohort.take === undefined)
    .map((cohort) => alike(cohort, intersect(cohort.numbers, asked)));
  if (toCome.length > 0) {
    remarks.push(
      `${graftsWords(batch, toCome)} ${size(toCome) === 1 ? 'is' : 'are'} not made yet: no date is printed.`,
    );
    sets.push(planned(batch, size(toCome), toCome));
  }
  return { sets: sets.filter(({ count }) => count > 0), remarks };
}

function countedGrafts(history: BatchHistory, set: SetRef): Found {
  const { batch, cohorts } = history;
  if (set.numbers)
    return `The grafts of ${batch.name} were counted, not numbered: write ${batch.name}, or ${batch.name} x40.`;
  let left = set.count?.value ?? Number.POSITIVE_INFINITY;
  const sets: Alike[] = [];
  for (const cohort of cohorts) {
    if (cohort.sold !== undefined || (set.rest && cohort.take !== undefined)) continue;
    const count = Math.min(left, livingOf(history, cohort));
    left -= count;
    if (count > 0) sets.push({ ...alike(cohort, []), count });
  }
  return { sets, remarks: [] };
}

function alike(cohort: Cohort, numbers: readonly number[]): Alike {
  const onto = namedIn(cohort.fact('onto')?.fact)?.text;
  return {
    ...{ batch: cohort.batch, numbers, count: size(numbers), made: cohort.madeDay, line: cohort.made },
    ...(cohort.scion ? { scion: cohort.scion } : {}),
    ...(cohort.stock ? { stock: cohort.stock } : {}),
    ...(onto ? { onto } : {}),
  };
}

function planned(batch: Batch, count: number, numbers: readonly number[]): Alike {
  const { scion, stock } = batch.taxa ?? {};
  return { batch, numbers, count, ...(scion ? { scion } : {}), ...(stock ? { stock } : {}) };
}

/** By number, whatever line made them. */
function each(sets: readonly Alike[]): Labelled[] {
  const out: { readonly number: number; readonly label: Labelled }[] = [];
  for (const { numbers, count, ...said } of sets) {
    const { batch } = said;
    if (numbers.length === 0)
      for (let i = 0; i < count; i++) out.push({ number: 0, label: { ...said, number: batch.name, count: 1 } });
    for (let i = 0; i < numbers.length; i += 2)
      for (let number = numbers[i] as number; number <= (numbers[i + 1] as number); number++)
        out.push({ number, label: { ...said, number: `${batch.name}.${number}`, count: 1 } });
  }
  return out.sort((a, b) => a.number - b.number).map(({ label }) => label);
}

/** What a `graft` line made stands together, whatever befell it since; so many to a tray. */
function trays(sets: readonly Alike[], most: number): Labelled[] {
  const lines = new Map<Entry | undefined, Alike>();
  for (const set of sets) {
    const before = lines.get(set.line);
    if (!before) lines.set(set.line, set);
    else
      lines.set(set.line, {
        ...before,
        numbers: union(before.numbers, set.numbers),
        count: before.count + set.count,
      });
  }
  const filled = [...lines.values()].flatMap(({ numbers, ...said }) =>
    Array.from({ length: Math.ceil(said.count / most) }, (_, i) => {
      const part = numbers.length === 0 ? [] : slice(numbers, i * most, most);
      return { ...said, number: graftsText(said.batch, part), count: Math.min(most, said.count - i * most) };
    }),
  );
  return filled.map((label, i) => ({ ...label, tray: `tray ${i + 1} of ${filled.length}` }));
}

/** So many numbers of a set, some left out before them. */
function slice(set: readonly number[], from: number, many: number): readonly number[] {
  const out: number[] = [];
  let [skip, left] = [from, many];
  for (let i = 0; i < set.length && left > 0; i += 2) {
    const [low, high] = [set[i] as number, set[i + 1] as number];
    const start = low + Math.min(skip, high - low + 1);
    skip -= start - low;
    if (start > high) continue;
    const stop = Math.min(high, start + left - 1);
    out.push(start, stop);
    left -= stop - start + 1;
  }
  return out;
}
