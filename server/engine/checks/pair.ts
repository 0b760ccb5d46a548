import type { Taxon } from '#grammar/statement.ts';
import type { Found } from '../model.ts';
import { type PairVerdict, pairedIn } from '../pair.ts';
import { bySitting, type CheckEnv, placedOn, type Seen, type Sitting } from './case.ts';
import { of } from './scion.ts';
import { sentence, withWhy } from './words.ts';

/** A pair that is known to do poorly, or two genera of one family. */
export const pairPoor = bySitting((sitting, env) => paired(sitting, env, 'poor', poorly));
/** A pair that doesn't live. */
export const pairNever = bySitting((sitting, env) => paired(sitting, env, 'never', dies));

function poorly({ scion, stock, source }: PairVerdict): string {
  if (source) return withWhy(`${scion.text} on ${stock.text} does poorly`, source);
  return `${scion.genus} on ${stock.genus}: two genera of one family seldom last; a \`pair\` line of your own overrules this.`;
}

function dies({ scion, stock, source }: PairVerdict): string {
  if (source) return withWhy(`${scion.text} on ${stock.text} doesn’t live`, source);
  return `${scion.genus} on ${stock.genus}: plants of two families don’t grow together; is one of the names a slip?`;
}

function paired(
  sitting: Sitting,
  env: CheckEnv,
  word: PairVerdict['word'],
  say: (verdict: PairVerdict) => string,
): Seen[] {
  for (const [scion, stock] of pairedIn(sitting.cohort)) {
    const verdict = env.pairs.verdict(scion, stock, sitting.day);
    if (verdict?.word !== word) continue;
    const at = whereTold(sitting, scion, stock);
    const line = `pair  ${scion.text} / ${stock.text}  fair`;
    const { entry } = sitting.history.batch;
    return [
      of(sitting, {
        ...at,
        severity: 'warning',
        ...(verdict.entry ? { practice: verdict.entry } : {}),
        message: sentence(say(verdict)),
        mends: () =>
          entry
            ? [{ title: 'I know this pair: write it as `fair`', edits: [{ entry, where: 'below', text: line }] }]
            : [],
      }),
    ];
  }
  return [];
}

/** On the graft's line if it told one of the two, by its lot or its tree; else where the batch told them. */
function whereTold(sitting: Sitting, scion: Taxon, stock: Taxon): Pick<Seen, 'entry' | 'span'> {
  const taxa = sitting.made.line.statement?.taxa;
  if (taxa) return { entry: sitting.made, span: taxa.span };
  const { batch } = sitting.history;
  const own = batch.taxa;
  const told: (Found | undefined)[] = [];
  if (own?.scion !== scion && own?.interstem !== scion) told.push(sitting.fact('lot'), sitting.fact('from'));
  if (own?.stock !== stock && own?.interstem !== stock) told.push(sitting.fact('onto'));
  const found = placedOn(told);
  if (found && (found.entry === sitting.made || !own)) return found;
  // its own line, or that of the batch it is like
  if (batch.told && own) return { entry: batch.told, span: own.span };
  if (found) return found;
  const entry = batch.entry ?? sitting.made;
  return { entry, span: entry.line.statement?.verbSpan ?? { start: 0, end: 0 } };
}
