import type { Mend, Problem } from '../finding.ts';
import type { Fact } from '../statement.ts';
import { type Key, keyRow } from '../vocabulary.ts';
import type { Draft } from './draft.ts';
import { plausible } from './figures.ts';
import { slippedFact } from './placed.ts';
import { slipMends } from './slips.ts';

/** Lengths on one line that can't both be: a short face longer than the long one, a cut as deep as its stock is thick. */
export function lengthsTogether(draft: Draft, text: string, problems: Problem[]): void {
  const of = (key: Key) => draft.facts.find((fact) => fact.key === key);
  const written = ({ valueSpan }: Fact) => text.slice(valueSpan.start, valueSpan.end);
  const slip = (fact: Fact, message: string, mends: readonly Mend[]) => {
    draft.facts[draft.facts.indexOf(fact)] = slippedFact(fact);
    problems.push({
      code: 'unit-slip',
      severity: 'error',
      span: fact.span,
      message,
      ...(mends.length > 0 ? { mends } : {}),
    });
  };
  const [long, short, cut, stock] = [of('long'), of('short'), of('cut'), of('stock')];
  const [longest, shortest, thick] = [high(long), high(short), high(stock)];
  if (long && short && longest !== undefined && shortest !== undefined && shortest > longest)
    slip(short, `The short face, ${shortest} mm, is longer than the long one, ${longest} mm: are they swapped?`, [
      {
        title: 'Swap the two figures',
        edits: [
          { span: long.valueSpan, text: written(short) },
          { span: short.valueSpan, text: written(long) },
        ],
      },
    ]);
  const deep = cut?.value.kind === 'amount' && cut.value.measure === 'length' ? high(cut) : undefined;
  if (!cut || deep === undefined || thick === undefined || deep < thick) return;
  const { plausible: shares, plausibleBeside: lengths } = keyRow('cut');
  slip(
    cut,
    `Cut ${deep} mm into ${thick} mm: that is through the whole stock.`,
    slipMends(written(cut), cut.valueSpan, ['share', 'length'], (other) =>
      other.measure === 'share' ? plausible(other, shares) : plausible(other, lengths) && (other.high ?? thick) < thick,
    ),
  );
}

const high = (fact: Fact | undefined) =>
  fact && !fact.lost && fact.value.kind === 'amount' ? fact.value.high : undefined;
