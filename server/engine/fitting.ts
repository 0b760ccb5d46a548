import type { Day, Intervals } from '#grammar/statement.ts';
import { normalize, same } from '#grammar/values/intervals.ts';
import type { Verb } from '#grammar/vocabulary.ts';
import { graftsText } from './grafts-text.ts';
import type { BatchHistory, Cohort, Work, WorkItem } from './model.ts';

/** How well a verb fits grafts as they stand: `well`, or `less` where it is said of such grafts now and then. */
type How = 'well' | 'less' | undefined;

const always = (): How => 'well';
const sideways: ReadonlySet<string> = new Set(['side', 'side-veneer', 'chip-bud', 't-bud']);
const attached = ({ method }: Cohort) => method === 'approach' || method === 'thread';
const moving = ({ swell, share }: Cohort) => swell !== undefined || share > 0;
const isWrapped = (cohort: Cohort) =>
  !attached(cohort) && (cohort.share > 0 || cohort.fact('film') !== undefined || cohort.fact('bag') !== undefined);

/** What may be written of grafts that live, by how far they have come. Of the lost and the sold nothing is offered. */
const fits = {
  swell: ({ swell, free, take }) =>
    swell === undefined && free === undefined && take === undefined ? 'well' : undefined,
  open: (cohort) => {
    const { free, take, share } = cohort;
    if (!isWrapped(cohort) || free !== undefined || take !== undefined || share >= 1) return undefined;
    return moving(cohort) ? 'well' : 'less';
  },
  free: (cohort) =>
    cohort.free !== undefined || cohort.take !== undefined ? undefined : moving(cohort) ? 'well' : 'less',
  rewrap: ({ share, take }) => (share > 0 && take === undefined ? 'well' : undefined),
  retie: ({ untied }) => (untied === undefined ? 'well' : 'less'),
  untie: ({ untied, take }) => (untied !== undefined ? undefined : take === undefined ? 'less' : 'well'),
  headback: ({ headback, take, method }) =>
    headback >= 1 ? undefined : take !== undefined && sideways.has(method ?? '') ? 'well' : 'less',
  sever: (cohort) => (attached(cohort) && cohort.severed < 1 ? 'well' : undefined),
  take: ({ take, free }) => (take !== undefined ? undefined : free === undefined ? 'less' : 'well'),
  sell: ({ take }) => (take === undefined ? 'less' : 'well'),
  check: always,
  move: always,
  cover: always,
  uncover: always,
  feed: always,
  water: always,
  treat: always,
  fail: always,
} satisfies Partial<Record<Verb, (cohort: Cohort) => How>>;

export type FittingVerb = keyof typeof fits;
const verbs = Object.keys(fits) as FittingVerb[];
export const isFitting = (verb: Verb): verb is FittingVerb => verb in fits;

/** The line that records each piece of work. */
const recorded: Readonly<Record<Work, FittingVerb>> = {
  look: 'check',
  watch: 'swell',
  cover: 'cover',
  shade: 'cover',
  open: 'open',
  judge: 'check',
  take: 'take',
  tie: 'check',
  headback: 'headback',
  untie: 'untie',
  suckers: 'check',
  sever: 'sever',
  again: 'check',
};

const renewedBy = { tie: 'retie', wrap: 'rewrap' } as const;

export const recordedBy = ({ what, renews }: Pick<WorkItem, 'what' | 'renews'>): FittingVerb =>
  renews ? renewedBy[renews] : recorded[what];

const lives = ({ fail, sold }: Cohort): boolean => fail === undefined && sold === undefined;

/** The grafts of a batch that a verb fits. */
export function graftsFitting(history: BatchHistory, verb: FittingVerb, how: 'well' | 'less'): string | undefined {
  const meant = history.cohorts.filter((cohort) => lives(cohort) && fits[verb](cohort) === how);
  return meant.length === 0 ? undefined : setText(history, numbersOf(meant));
}

/** A set as a hand writes it: the batch's name where that means just these. */
export function setText(history: BatchHistory, numbers: Intervals): string {
  const living = numbersOf(history.cohorts.filter(lives));
  return same(numbers, living) ? history.batch.name : graftsText(history.batch, numbers);
}

/** Each history of a batch by itself, those that live. */
export function livingSets(history: BatchHistory): string[] {
  return history.cohorts.filter(lives).map(({ numbers }) => graftsText(history.batch, numbers));
}

const numbersOf = (cohorts: readonly Cohort[]): Intervals => normalize(cohorts.flatMap(({ numbers }) => numbers));

/** A batch as it was last answered: which verbs fit it, as bits in the order of `fits`, and when work on it is due. */
export interface Fit {
  readonly batch: string;
  readonly history: BatchHistory;
  readonly work: readonly WorkItem[];
  readonly well: number;
  readonly less: number;
  /** Day of the last line on it. */
  readonly last: Day;
  /** `by` of the work that is due or late, by the verb that records it. */
  readonly due: ReadonlyMap<FittingVerb, Day>;
}

const nothingDue: Fit['due'] = new Map();

function fitOf(batch: string, history: BatchHistory, work: readonly WorkItem[]): Fit {
  let [well, less] = [0, 0];
  for (const cohort of history.cohorts) {
    if (!lives(cohort)) continue;
    verbs.forEach((verb, i) => {
      const how = fits[verb](cohort);
      if (how === 'well') well |= 1 << i;
      if (how === 'less') less |= 1 << i;
    });
  }
  let due = nothingDue as Map<FittingVerb, Day>;
  for (const { what, state, by } of work) {
    if (state !== 'due' && state !== 'overdue') continue;
    if (due === nothingDue) due = new Map();
    due.set(recorded[what], Math.min(by, due.get(recorded[what]) ?? by));
  }
  return { batch, history, work, well, less, due, last: history.lines.at(-1)?.day ?? 0 };
}

/** Which batches each verb fits today, kept by difference: what is due first, by its day, then what was worked on last. */
export class Fitting {
  /** Every batch has been answered once; till then others may fit as well. */
  complete = false;
  readonly #fits = new Map<string, Fit>();
  /** Sorted when a verb is first asked for. */
  readonly #lists = new Map<FittingVerb, Fit[]>();

  put(batch: string, history: BatchHistory, work: readonly WorkItem[]): void {
    this.remove(batch);
    const fit = fitOf(batch, history, work);
    this.#fits.set(batch, fit);
    for (const [verb, list] of this.#lists) if (holds(fit, verb)) list.splice(indexIn(list, fit, verb), 0, fit);
  }

  remove(batch: string): void {
    const fit = this.#fits.get(batch);
    if (!fit) return;
    this.#fits.delete(batch);
    for (const [verb, list] of this.#lists) {
      const at = indexIn(list, fit, verb);
      if (list[at] === fit) list.splice(at, 1);
    }
  }

  get(batch: string): Fit | undefined {
    return this.#fits.get(batch);
  }

  /** Batches a verb fits, those first that call for it. */
  of(verb: FittingVerb): readonly Fit[] {
    let list = this.#lists.get(verb);
    if (!list) {
      list = [...this.#fits.values()].filter((fit) => holds(fit, verb)).sort((a, b) => compare(a, b, verb));
      this.#lists.set(verb, list);
    }
    return list;
  }
}

const holds = ({ well, less }: Fit, verb: FittingVerb): boolean => ((well | less) & bitOf(verb)) !== 0;
const bitOf = (verb: FittingVerb): number => 1 << verbs.indexOf(verb);

function compare(a: Fit, b: Fit, verb: FittingVerb): number {
  const [dueA, dueB] = [a.due.get(verb) ?? never, b.due.get(verb) ?? never];
  if (dueA !== dueB) return dueA - dueB;
  const [wellA, wellB] = [a.well & bitOf(verb), b.well & bitOf(verb)];
  if (wellA !== wellB) return wellB - wellA;
  return b.last - a.last || (a.batch < b.batch ? -1 : a.batch > b.batch ? 1 : 0);
}

/** After every day there is; a number, so that two of them are equal. */
const never = Number.MAX_SAFE_INTEGER;

function indexIn(list: readonly Fit[], fit: Fit, verb: FittingVerb): number {
  let [low, high] = [0, list.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (compare(list[middle] as Fit, fit, verb) < 0) low = middle + 1;
    else high = middle;
  }
  return low;
}
