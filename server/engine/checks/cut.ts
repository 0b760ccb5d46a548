import { factOf } from '../facts.ts';
import { strengthLeft } from '../figures/cut-geometry.ts';
import type { BatchHistory, Cohort } from '../model.ts';
import type { Limit } from '../practice.ts';
import { above, below } from '../practice-match.ts';
import { amountOf, byLog, bySitting, type CheckEnv, placedOn, type Seen, type Sitting } from './case.ts';
import { depthOf } from './depth.ts';
import { sittingsOf } from './sittings.ts';
import { told } from './tell.ts';
import { between, methodWord, mm, sentence, share, usual } from './words.ts';

/** A cut shallower than practice for its method: little cambium meets, and the scion sits loose. */
export const cutShallow = bySitting((sitting, env) =>
  judged(
    sitting,
    env,
    (limit, figure) => below(figure.low, limit.amount) && limit.low !== undefined,
    (limit, deep, say) =>
      `${deep}: ${cutKind(sitting, limit)} are cut ${usual(limit, say)}, so the scion is held and enough cambium lies bare.`,
  ),
);

/** A cut deeper than practice: what is left of the branch may not carry it. */
export const cutDeep = bySitting((sitting, env) =>
  judged(
    sitting,
    env,
    (limit, figure) => above(figure.high, limit.amount),
    (limit, deep, say) => {
      const depth = depthOf(sitting);
      const left = depth?.share ? strengthLeft(1, depth.share.high) : null;
      const what = sitting.cohort.potted ? 'stem' : 'branch';
      const carried = left === null ? '' : `; about ${share(left)} of the ${what}’s strength is left, so splint it`;
      return `${deep}: ${cutKind(sitting, limit)} are cut ${usual(limit, say)}${carried}.`;
    },
  ),
);

/** A potted stem has a band of its own: whose it is, as that of a branch is narrower. */
const cutKind = ({ cohort }: Sitting, { row, severity }: Limit): string =>
  `${methodWord(cohort.method)}${row.conditions.potted && severity === 'warning' ? ' on a potted stem' : ''}`;

type Figure = { readonly low: number; readonly high: number };

function judged(
  sitting: Sitting,
  env: CheckEnv,
  broken: (limit: Limit, figure: Figure) => boolean,
  say: (limit: Limit, deep: string, figure: (f: number) => string) => string,
): Seen[] {
  const depth = depthOf(sitting);
  if (!depth) return [];
  for (const limit of env.practice.limits('cut', sitting.subject)) {
    const figure = limit.amount.measure === 'share' ? depth.share : depth.length;
    if (!figure || !broken(limit, figure)) continue;
    const at = placedOn(depth.facts);
    if (!at) return [];
    const words = (f: number) => (limit.amount.measure === 'share' ? share(f, [figure.low, figure.high]) : mm(f));
    const shown = (f: number) => share(f, [limit.low, limit.high]);
    const deep =
      depth.facts.length > 1 && depth.stock && depth.length && depth.share
        ? `${between(depth.length, mm)} into ${between(depth.stock, mm)} is ${between(depth.share, shown)}`
        : limit.amount.measure === 'share'
          ? `Cut ${between(figure, shown)} deep`
          : `Cut ${between(figure, mm)} deep`;
    return [
      {
        severity: limit.severity,
        practice: limit.row.entry,
        ...at,
        message: sentence(say(limit, deep, words)),
        numbers: sitting.numbers,
        cohort: sitting.cohort,
        day: sitting.day,
      },
    ];
  }
  return [];
}

interface Forgotten {
  readonly history: BatchHistory;
  /** A depth is noted in the batch itself. */
  readonly noted: boolean;
  readonly sittings: readonly Sitting[];
}

/**
 * A side graft without a depth, where depths are written down otherwise: it was forgotten, not left out. Lines of other
 * batches in the file tell that, so it is asked across batches.
 */
export const cutMissing = byLog(() => {
  const kept = new Map<string, Forgotten>();
  return {
    put(history, env) {
      const { batch, cohorts } = history;
      if (!cohorts.some(lacksDepth)) return;
      const noted = cohorts.some((cohort) => amountOf(cohort.fact('cut')) !== undefined);
      const sittings = sittingsOf(history, env).filter(
        ({ cohort, subject }) => lacksDepth(cohort) && env.practice.limits('cut', subject).length > 0,
      );
      if (sittings.length > 0) kept.set(batch.key, { history, noted, sittings });
    },
    drop: (batch) => kept.delete(batch),
    findings: (env) =>
      [...kept.values()].flatMap(({ history, noted, sittings }) => {
        const seen = sittings.filter(({ made }) => noted || notesCut(made.file, env)).map(forgotten);
        return seen.length > 0 ? told('cut-missing', seen, history, env) : [];
      }),
  };
});

const lacksDepth = (cohort: Cohort) =>
  (cohort.method === 'side' || cohort.method === 'side-veneer') && !cohort.fact('cut');

function forgotten({ made, numbers, cohort, day }: Sitting): Seen {
  const set = made.line.statement?.sets[0];
  return {
    severity: 'hint',
    entry: made,
    span: set?.span ?? { start: 0, end: made.line.text.length },
    message: 'No depth of cut noted, and it is noted elsewhere: `cut 40%` or `cut 3mm` tells later what worked.',
    numbers,
    cohort,
    day,
  };
}

const noting = new WeakMap<CheckEnv['places'], Map<string, boolean>>();

/** A readable `cut` on a graft line of the file. Asked only where a depth is missing and none stands in its batch. */
function notesCut(file: string, { log, places }: CheckEnv): boolean {
  const files = noting.get(places) ?? new Map<string, boolean>();
  noting.set(places, files);
  let known = files.get(file);
  if (known === undefined) {
    known = (log.document(file)?.entries ?? []).some(({ line: { statement } }) => {
      const fact = statement?.verb === 'graft' ? factOf(statement, 'cut') : undefined;
      return fact !== undefined && !fact.lost;
    });
    files.set(file, known);
  }
  return known;
}
