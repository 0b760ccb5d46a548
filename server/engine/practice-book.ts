import type { Amount, Intervals } from '#grammar/statement.ts';
import type { Entry, Work } from './model.ts';
import { conditionsHold, inScope } from './practice-match.ts';
import type { PracticeRow, Wait } from './practice-rows.ts';
import { kindOf, type Subject } from './practice-subject.ts';
import { isTropical } from './practice-year.ts';

/** A rule that holds for a subject, and the line behind it. */
export interface Held {
  readonly row: PracticeRow;
  readonly severity: 'warning' | 'information';
}
/** An interval that is good inside and on its ends; an open end is absent. Shares 0..1, mm, °C, days. */
export interface Limit extends Held {
  readonly low?: number;
  readonly high?: number;
  readonly amount: Amount;
}
/** `work` and `earliest`: how long after which event. */
export interface Waiting extends Held {
  readonly event: string;
  readonly wait: Wait;
}

export type EarliestWork = 'swell' | 'take' | 'untie' | 'headback';

/** Rows by key, and which of them a kind of graft is asked: found once a kind, however many batches there are. */
export class PracticeBook {
  readonly works: readonly { readonly what: Work; readonly event: string }[];
  private readonly general = new Map<string, PracticeRow[]>();
  private readonly bySet = new Map<string, PracticeRow[]>();
  private readonly byLine = new Map<Entry, PracticeRow[]>();
  private readonly earliest = new Map<string, string[]>();
  private readonly kinds = new Map<string, Map<string, Asked>>();

  constructor(rows: readonly PracticeRow[]) {
    const works = new Map<string, { readonly what: Work; readonly event: string }>();
    for (const row of rows) {
      push(this.byLine, row.entry, row);
      if (row.key === 'work' && row.word && row.event) works.set(row.id, { what: row.word as Work, event: row.event });
      if (row.key === 'earliest' && row.word && row.event && !this.earliest.get(row.word)?.includes(row.event))
        push(this.earliest, row.word, row.event);
      const batches = row.scopes.flatMap((scope) => (scope.kind === 'set' ? [scope.set.name.key] : []));
      if (batches.length > 0) for (const batch of new Set(batches)) push(this.bySet, batch, row);
      else for (const id of idsOf(row)) push(this.general, id, row);
    }
    this.works = [...works.values()];
  }

  of(entry: Entry): readonly PracticeRow[] {
    return this.byLine.get(entry) ?? [];
  }

  earliestEvents(what: EarliestWork): readonly string[] {
    return this.earliest.get(what) ?? [];
  }

  setsOf(batch: string): readonly Intervals[] {
    return (this.bySet.get(batch) ?? [])
      .flatMap((row) => row.scopes)
      .flatMap((scope) => {
        if (scope.kind !== 'set' || scope.set.name.key !== batch) return [];
        return [
          ...(scope.set.numbers ? [scope.set.numbers] : []),
          ...(scope.set.except ?? []).map(({ numbers }) => numbers),
        ];
      });
  }

  /** The closest warning and the closest information that hold, the rule taken away where `none` is closest. */
  held(id: string, subject: Subject): readonly Held[] {
    return this.answer(id, subject).held;
  }

  limits(id: string, subject: Subject): readonly Limit[] {
    const answer = this.answer(id, subject);
    answer.limits ??= answer.held.flatMap(limitOf);
    return answer.limits;
  }

  waiting(id: string, subject: Subject): readonly Waiting[] {
    const answer = this.answer(id, subject);
    answer.waiting ??= answer.held.flatMap(waitingOf);
    return answer.waiting;
  }

  private answer(id: string, subject: Subject): Answer {
    const asked = this.asked(id, subject);
    if (!asked) return none;
    if (!asked.fixed) return holding(asked, subject);
    asked.answer ??= holding(asked, subject);
    return asked.answer;
  }

  private asked(id: string, subject: Subject): Asked | undefined {
    const general = this.ofKind(id, subject);
    const sets = subject.batch === undefined ? undefined : this.bySet.get(subject.batch);
    const own = sets?.filter((row) => idsOf(row).includes(id) && inScope(row, subject)) ?? [];
    return own.length > 0 ? { rows: [...(general?.rows ?? []), ...own], fixed: false, answers: new Map() } : general;
  }

  private ofKind(id: string, subject: Subject): Asked | undefined {
    const rows = this.general.get(id);
    if (!rows) return undefined;
    const kind = subject.kind ?? kindOf(subject);
    let known = this.kinds.get(kind);
    if (!known) {
      if (this.kinds.size >= mostKinds) this.kinds.clear();
      known = new Map();
      this.kinds.set(kind, known);
    }
    let found = known.get(id);
    if (!found) {
      const asked = rows.filter((row) => inScope(row, subject) && (!row.conditions.potted || subject.potted === true));
      found = { rows: asked, fixed: asked.every(isFixed), answers: new Map() };
      known.set(id, found);
    }
    return found;
  }
}

const hasScope = (row: PracticeRow, kinds: readonly string[]) => row.scopes.some(({ kind }) => kinds.includes(kind));

/**
 * Of `off` the closest line by plant and the closest by method are both asked: a line by method says
 * nothing of the plant, and the other way round; wider and narrower lines speak for both.
 */
function idsOf(row: PracticeRow): readonly string[] {
  if (row.id !== 'off') return [row.id];
  const byPlant = !hasScope(row, ['method']) || hasScope(row, ['group', 'plant', 'set']);
  const byMethod = !hasScope(row, ['group', 'plant']) || hasScope(row, ['method', 'set']);
  return [...(byPlant ? ['off:plant'] : []), ...(byMethod ? ['off:method'] : [])];
}

/** What holds, and what is made of it when it is asked for. */
interface Answer {
  readonly held: readonly Held[];
  limits?: readonly Limit[];
  waiting?: readonly Waiting[];
}

const none: Answer = { held: [], limits: [], waiting: [] };

/** Rows that a kind of graft is asked for; where none depends on day, place or figures, the answer is kept. */
interface Asked {
  readonly rows: readonly PracticeRow[];
  readonly fixed: boolean;
  answer?: Answer;
  /** By the rows that hold, as bits: the same rows give all that ask the same answer. */
  readonly answers: Map<number, Answer>;
}

/** A nursery has some hundreds; each key typed into a plant's name makes one more. */
const mostKinds = 2000;

/** Bits of a whole number; a log with more rows for one question is answered anew each time. */
const mostRows = 30;

function isFixed({ conditions, since, seasonal }: PracticeRow): boolean {
  return since === undefined && !seasonal && Object.keys(conditions).every((condition) => condition === 'potted');
}

function holding({ rows, answers }: Asked, subject: Subject): Answer {
  const inTropics = () => isTropical(subject.lat?.(subject.day));
  if (rows.length > mostRows) {
    const held = rows.filter((row) => conditionsHold(row, subject));
    return held.length === 0 ? none : { held: closestOf(held, inTropics()) };
  }
  let which = 0;
  let seasonal = false;
  for (let i = 0; i < rows.length; i++) {
    const row = rows[i] as PracticeRow;
    if (!conditionsHold(row, subject)) continue;
    which |= 1 << i;
    if (row.seasonal) seasonal = true;
  }
  if (which === 0) return none;
  const tropical = seasonal && inTropics();
  const key = tropical ? which | (1 << mostRows) : which;
  let answer = answers.get(key);
  if (!answer) {
    const held = rows.filter((_, i) => (which & (1 << i)) !== 0);
    answer = { held: closestOf(held, tropical) };
    answers.set(key, answer);
  }
  return answer;
}

function closestOf(asked: readonly PracticeRow[], tropical: boolean): readonly Held[] {
  const best = closest(asked);
  const own = best.findLast((row) => !row.shipped);
  const file = (own ?? best.at(-1))?.entry.file;
  const standing =
    own && own.severity === undefined ? closest(asked.filter((row) => row.shipped && row.value.kind !== 'none')) : [];
  const fallback =
    standing.length > 0 && standing.every((row) => row.severity === 'information') ? 'information' : 'warning';
  const slots: Partial<Record<'warning' | 'information', PracticeRow>> = {};
  for (const row of best) {
    if (row.shipped === (own !== undefined) || row.entry.file !== file) continue;
    if (row.value.kind === 'none') {
      delete slots.warning;
      delete slots.information;
    } else slots[row.severity ?? (row.shipped ? 'warning' : fallback)] = row;
  }
  return (['warning', 'information'] as const).flatMap((severity) => {
    const row = slots[severity];
    return row && !(row.seasonal && tropical) ? [{ row, severity }] : [];
  });
}

/** Those of the narrowest scope, then of the most scopes and conditions, in the order they were read. */
function closest(rows: readonly PracticeRow[]): readonly PracticeRow[] {
  let [rank, extent] = [-1, -1];
  for (const row of rows)
    if (row.rank > rank || (row.rank === rank && row.extent > extent)) [rank, extent] = [row.rank, row.extent];
  return rows.filter((row) => row.rank === rank && row.extent === extent).sort((a, b) => a.order - b.order);
}

function push<K, V>(map: Map<K, V[]>, key: K, value: V): void {
  const list = map.get(key);
  if (list) list.push(value);
  else map.set(key, [value]);
}

const limitOf = ({ row, severity }: Held): Limit[] =>
  row.value.kind === 'amount'
    ? [
        {
          row,
          severity,
          amount: row.value,
          ...(row.value.low !== undefined ? { low: row.value.low } : {}),
          ...(row.value.high !== undefined ? { high: row.value.high } : {}),
        },
      ]
    : [];

const waitingOf = ({ row, severity }: Held): Waiting[] =>
  row.wait && row.event ? [{ row, severity, event: row.event, wait: row.wait }] : [];
