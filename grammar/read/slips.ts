import type { Mend, Span } from '../finding.ts';
import type { Amount, Measure } from '../statement.ts';
import { readQuantity, toAmount, units } from '../values/quantity.ts';
import { withUnit } from './units.ts';

/** More ways than these are no help. */
const most = 3;

/**
 * What was likely meant by a figure no graft can have: the same figures in another unit, or their point one place on,
 * where that is plausible. None is sure, so all are offered.
 * @param written the figures as typed, and what stands around them in their span
 */
export function slipMends(
  written: string,
  span: Span,
  measures: readonly Measure[],
  plausible: (amount: Amount) => boolean,
  around: (text: string) => string = (text) => text,
): Mend[] {
  const fits = (text: string) => {
    const read = readQuantity(text);
    const amount = read && toAmount(read, measures, false);
    return amount !== undefined && 'ok' in amount && plausible(amount.ok);
  };
  const inUnits = Object.entries(units)
    .filter(([unit, { measure }]) => measures.includes(measure) && !unit.startsWith('°'))
    .map(([unit]) => withUnit(written, unit));
  const shifted = written.includes('/') ? [] : [moved(written, 0.1), moved(written, 10)];
  const offers = [...new Set([...inUnits, ...shifted])].filter((text) => text !== written && fits(text));
  return offers.slice(0, most).map((text) => {
    const whole = around(text);
    return { title: `Make it ${whole}`, edits: [{ span, text: whole }] };
  });
}

/** `90..110mm` ten times smaller: `9..11mm`. */
const moved = (written: string, factor: number) =>
  written.replace(/\d+(?:[.,]\d+)?/g, (figure) =>
    String(Math.round(Number(figure.replace(',', '.')) * factor * 1e6) / 1e6),
  );
