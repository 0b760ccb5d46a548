import type { Found } from '../model.ts';
import type { Range } from '../practice.ts';
import { amountOf, rangeOf, type Sitting } from './case.ts';

/** How deep a graft was cut: as a share of the stock and in mm, as far as the facts tell. */
export interface Depth {
  /** 0..1 */
  readonly share?: Range;
  /** mm */
  readonly length?: Range;
  /** The understock there, mm. */
  readonly stock?: Range;
  /** What it was worked out from. */
  readonly facts: readonly Found[];
}

export function depthOf(sitting: Pick<Sitting, 'fact'>): Depth | undefined {
  const cut = sitting.fact('cut');
  const amount = amountOf(cut);
  const range = rangeOf(amount);
  if (!cut || !amount || !range) return undefined;
  const stockFact = sitting.fact('stock');
  const stock = rangeOf(amountOf(stockFact));
  if (amount.measure === 'share') {
    const length = stock && { low: range.low * stock.low, high: range.high * stock.high };
    return { share: range, ...(length && stock ? { length, stock } : {}), facts: [cut] };
  }
  const share = stock && { low: range.low / stock.high, high: range.high / stock.low };
  return {
    length: range,
    ...(share && stock ? { share, stock } : {}),
    facts: stock && stockFact ? [cut, stockFact] : [cut],
  };
}
