import type { Key } from '#grammar/vocabulary.ts';
import { coverOn } from '../cover.ts';
import type { Cohort } from '../model.ts';
import type { Held } from '../practice.ts';
import { bySitting, placedOn, type Seen, type Sitting } from './case.ts';
import { addFact } from './mends.ts';
import { of } from './scion.ts';

/** What keeps a scion from drying, as it stands on the graft. A lost fact may be one: unknown isn't missing. */
const wraps: readonly Key[] = ['film', 'bag', 'wax'];
/** Figures and marks of the bench: a batch that gives them would have given its wrap, too. */
const benchFacts: readonly Key[] = ['cut', 'stock', 'scion', 'long', 'short', 'whorls', 'match'];

export const isWrapped = (cohort: Pick<Cohort, 'fact' | 'named'>): boolean =>
  wraps.some((key) => cohort.fact(key)) ||
  cohort.named.some(({ verb }) => verb === 'open' || verb === 'rewrap' || verb === 'free');

/** Nothing keeps the scion from drying: a tie alone, or no cover at all where the other facts of the bench are noted. */
export const wrapMissing = bySitting((sitting, env) => {
  const { cohort } = sitting;
  if (sitting.cohorts.some(isWrapped)) return [];
  const asked = env.practice.needs('humid', sitting.subject);
  if (!asked) return [];
  // a tie over a T-bud holds its flaps shut: it is the cover
  if (cohort.method === 't-bud' && sitting.fact('tie')) return [];
  if (coverOn(cohort, sitting.day, env.log).flags.has('humid')) return [];
  const tie = placedOn([sitting.fact('tie')]);
  if (tie) return [tied(sitting, tie, asked)];
  return benchFacts.some((key) => noted(sitting, key)) ? [uncovered(sitting, asked)] : [];
});

const noted = (sitting: Sitting, key: Key) => sitting.history.cohorts.some((cohort) => cohort.fact(key));

const tied = (sitting: Sitting, at: Pick<Seen, 'entry' | 'span'>, { severity, row }: Held) =>
  of(sitting, {
    ...at,
    severity,
    practice: row.entry,
    message: 'Tied but not covered: film or a bag keeps it from drying.',
    mends: () => addFact(at.entry, 'film', 'Add `film`'),
  });

function uncovered(sitting: Sitting, { row }: Held): Seen {
  const set = sitting.made.line.statement?.sets[0];
  const line = sitting.history.batch.entry ?? sitting.made;
  return of(sitting, {
    entry: sitting.made,
    span: set?.span ?? { start: 0, end: sitting.made.line.text.length },
    severity: 'hint',
    practice: row.entry,
    message: 'No cover noted: film, a bag, wax or damp air keeps the scion from drying till the bud is out.',
    mends: () => addFact(line, 'film', 'Add `film` to the batch'),
  });
}
