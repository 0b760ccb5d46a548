import type { Problem, Span } from '../finding.ts';
import type { Amount, Fact, Value } from '../statement.ts';
import { readQuantity, toAmount } from '../values/quantity.ts';
import { type Key, keyRow, type Verb } from '../vocabulary.ts';
import { decimalComma, openEnd, plausible, plausibleText, slipped, wrongUnit } from './figures.ts';
import { remembered } from './remembered.ts';
import { slipMends } from './slips.ts';

export type MakeFact = (value: Value, lost?: Fact['lost']) => Fact;

/** `4mm x 90mm`: thickness and length, a unit at one end serving both; or the length alone. */
export function readSize(fact: MakeFact, image: string, span: Span, verb: Verb, problems: Problem[]): Fact {
  const known = clean.get(image);
  if (known) return fact(known);
  const before = problems.length;
  const read = readAnew(fact, image, span, verb, problems);
  if (problems.length === before) clean.keep(image, read.value);
  return read;
}

const clean = remembered<Value>(5000);

function readAnew(fact: MakeFact, image: string, span: Span, verb: Verb, problems: Problem[]): Fact {
  const parts = image.split(/[ \t\u00A0]*[×x][ \t\u00A0]*/);
  const units = [...image.matchAll(/mm|cm|in/g)].map((match) => match[0]);
  const unit = units.at(-1) ?? '';
  const ends: Amount[] = [];
  for (const part of parts) {
    const read = readQuantity(/mm|cm|in/.test(part) ? part : `${part}${unit}`);
    const amount = read ? toAmount(read, ['length'], false) : undefined;
    if (!amount || 'fault' in amount) {
      problems.push(
        amount && 'fault' in amount && amount.fault === 'open'
          ? openEnd('scion', image, span, verb)
          : wrongUnit('scion', image, span, ['mm', 'cm'], read),
      );
      return fact({ kind: 'none' }, 'unread');
    }
    ends.push(amount.ok);
  }
  if (/\d,\d/.test(image)) problems.push(decimalComma(image, span));
  const along = ends.at(-1) as Amount;
  const across = ends.length > 1 ? ends[0] : undefined;
  const [first = '', last = ''] = [parts[0], parts.at(-1)];
  const [thinnest, thickest] = keyRow('scion').plausibleBeside ?? [0, Number.POSITIVE_INFINITY];
  const thick = across !== undefined && !plausible(across, [thinnest, thickest]);
  if (thick) {
    const unitless = !/mm|cm|in/.test(first);
    const mends = slipMends(
      unitless ? `${first}${unit}` : first,
      span,
      ['length'],
      (other) => plausible(other, [thinnest, thickest]),
      (text) => `${text} x ${last}`,
    );
    problems.push({
      code: 'unit-slip',
      severity: 'error',
      span,
      message: `\`scion\` ${image}: ${plausibleText(thinnest, thickest, 'length')} thick is plausible; is a figure or a unit slipped?`,
      ...(mends.length > 0 ? { mends } : {}),
    });
  }
  const rest = across
    ? { image: /mm|cm|in/.test(last) ? last : `${last}${unit}`, around: (text: string) => `${first} x ${text}` }
    : undefined;
  const lost = slipped('scion', verb, along, image, span, problems, rest) || thick;
  return fact({ kind: 'size', ...(across ? { across } : {}), along }, lost ? 'slipped' : undefined);
}

/** `cut 4mm x 9mm`: a size where one figure is due. */
export function oneLength(key: Key, image: string, span: Span): Problem {
  const along = image.split(/[×x]/).at(-1)?.trim() ?? image;
  return {
    code: 'wrong-unit',
    severity: 'error',
    span,
    message: `\`${image}\` is thickness and length; behind \`${key}\` stands one figure: \`${keyRow(key).example.includes(' x ') ? `${key} ${along}` : keyRow(key).example}\`.`,
  };
}
