import type { IToken } from 'chevrotain';
import { expectedAfter, expectedShare } from '../expected.ts';
import type { Mend, Problem, Span } from '../finding.ts';
import type { Amount, Measure } from '../statement.ts';
import { type ReadQuantity, readQuantity, toAmount } from '../values/quantity.ts';
import { type FormRow, forms, type Key, keyRow, type ValueForm, type Verb } from '../vocabulary.ts';
import { spanOf } from './dates.ts';
import { remembered } from './remembered.ts';
import { slipMends } from './slips.ts';
import { withUnit } from './units.ts';

export interface Figured {
  readonly amount?: Amount;
  readonly lost?: 'slipped' | 'unread';
}

/** Figures behind a key, in its measure; says what is wrong with them otherwise. */
export function readFigures(
  key: Key,
  form: ValueForm,
  image: string,
  span: Span,
  verb: Verb,
  problems: Problem[],
): Figured {
  const text = `${verb === 'practice' ? verb : ''} ${key} ${image}`;
  const known = clean.get(text);
  if (known) return known;
  const before = problems.length;
  const figured = readAnew(key, form, image, span, verb, problems);
  return problems.length === before ? clean.keep(text, figured) : figured;
}

const clean = remembered<Figured>(5000);

function readAnew(key: Key, form: ValueForm, image: string, span: Span, verb: Verb, problems: Problem[]): Figured {
  const { measures = [], offered: units = [] }: FormRow = forms[form];
  const read = readQuantity(image);
  if (!read) {
    problems.push(wrongUnit(key, image, span, units, read));
    return { lost: 'unread' };
  }
  const result = toAmount(read, measures, verb === 'practice');
  if ('fault' in result) {
    if (result.fault === 'open') problems.push(openEnd(key, image, span, verb));
    else problems.push(wrongUnit(key, image, span, units, read));
    return { lost: 'unread' };
  }
  if (read.decimalComma) problems.push(decimalComma(image, span));
  const amount = result.ok;
  if (form === 'count' && [amount.low, amount.high].some((end) => end !== undefined && !Number.isInteger(end))) {
    problems.push({ code: 'missing-value', severity: 'error', span, message: expectedAfter(key) });
    return { lost: 'unread' };
  }
  if (verb !== 'practice' && slipped(key, verb, amount, image, span, problems)) return { amount, lost: 'slipped' };
  return { amount };
}

/**
 * A figure no graft can have, both ends of an interval tried: beyond the `plausible` of its row in `vocabulary/keys.ts`.
 * @param around puts a mend's figures back among what else stands in the span
 */
export function slipped(
  key: Key,
  verb: Verb,
  amount: Amount,
  image: string,
  span: Span,
  problems: Problem[],
  part: { readonly image: string; readonly around: (text: string) => string } = { image, around: (text) => text },
): boolean {
  const row = keyRow(key);
  const rangeOf = ({ measure }: Amount) =>
    row.value === 'depth' && measure === 'length'
      ? row.plausibleBeside
      : (row.with?.[verb]?.plausible ?? row.plausible);
  const range = rangeOf(amount);
  if (!range || plausible(amount, range)) return false;
  const whole = row.value === 'count' || row.value === 'stage';
  const { measures = [] }: FormRow = forms[row.with?.[verb]?.value ?? row.value];
  const mends = slipMends(
    part.image,
    span,
    measures,
    (other) => plausible(other, rangeOf(other)) && (!whole || Number.isInteger(other.low)),
    part.around,
  );
  problems.push({
    code: 'unit-slip',
    severity: 'error',
    span,
    message: `${label(key)} ${image}: ${plausibleText(...range, amount.measure)} is plausible; is a figure or a unit slipped?`,
    ...(mends.length > 0 ? { mends } : {}),
  });
  return true;
}

/** Both ends lie in a range, in the model's units. */
export const plausible = ({ low, high }: Amount, range: readonly [number, number] | undefined): boolean =>
  range !== undefined && [low, high].every((end) => end === undefined || (end >= range[0] && end <= range[1]));

const label = (key: Key) => (key === 'share' ? 'A share of' : `\`${key}\``);

export function plausibleText(low: number, high: number, measure: Measure): string {
  switch (measure) {
    case 'length':
      return high < 1000 ? `${low} to ${high}\u00A0mm` : `${low / 10} to ${high / 10}\u00A0cm`;
    case 'share':
      return `${Math.round(low * 100)} to ${Math.round(high * 100)}\u00A0%`;
    case 'temperature':
      return `${low} to ${high}\u00A0°C`.replace('-', '−');
    case 'duration':
      return `${Math.round(low / 7)}\u00A0week to ${Math.round(high / 365.25)}\u00A0years`;
    default:
      return `${low} to ${high.toLocaleString('en')}`.replace('-', '−');
  }
}

/** `cut 30%..`: only a rule leaves an end open. */
export const openEnd = (key: Key, image: string, span: Span, verb: Verb): Problem => ({
  code: 'missing-value',
  severity: 'error',
  span,
  message: `\`${image}\` leaves an end open; that is for practice lines. ${key === 'share' ? expectedShare(verb) : expectedAfter(key)}`,
});

export function wrongUnit(
  key: Key,
  image: string,
  span: Span,
  units: readonly string[],
  read: ReadQuantity | undefined,
): Problem {
  const problem = (message: string, offers: readonly string[]): Problem => {
    const mends: Mend[] = offers.map((text) => ({ title: `Make it ${text}`, edits: [{ span, text }] }));
    return { code: 'wrong-unit', severity: 'error', span, message, ...(mends.length > 0 ? { mends } : {}) };
  };
  if (image.endsWith('"') && units.includes('mm')) {
    const inches = `${image.slice(0, -1).replace(',', '.')}in`;
    return problem(`\`${image}\`: inches are written \`${inches}\`.`, [inches]);
  }
  if (units.length === 0)
    return problem(
      `\`${image}\` behind \`${key}\`: a figure without a unit stands there, such as \`${keyRow(key).example}\`.`,
      [],
    );
  // a fraction is a share, or inches: no other unit makes it readable
  const offers = image.includes('/') && !units.includes('%') ? [] : units.map((unit) => withUnit(image, unit));
  if (offers.length === 0 && units.includes('mm') && /\d$/.test(image))
    return problem(`${image} what? \`${image}in\`.`, [`${image}in`]);
  if (offers.length === 0) return problem(`\`${image}\` doesn’t fit \`${key}\`: \`${keyRow(key).example}\`.`, []);
  const shown = offers.slice(0, 2).map((text) => `\`${text}\``);
  const bare = read?.low && !read.low.unit && !read.high?.unit;
  return problem(`${bare ? `${image} what?` : `\`${image}\` doesn’t fit \`${key}\`:`} ${shown.join(' or ')}.`, offers);
}

export function decimalComma(image: string, span: Span): Problem {
  const point = image.replace(/(\d),(\d)/g, '$1.$2');
  return {
    code: 'decimal-comma',
    severity: 'warning',
    span,
    message: `${image} is read as ${point}: the notation writes a decimal point.`,
    mends: [{ title: `Make it ${point}`, edits: [{ span, text: point }], safe: true }],
  };
}

export function badCount(token: IToken, value: number): Problem {
  return value < 1
    ? { code: 'unit-slip', severity: 'error', span: spanOf(token), message: `\`${token.image}\`: a count begins at 1.` }
    : {
        code: 'set-too-large',
        severity: 'error',
        span: spanOf(token),
        message: `${value.toLocaleString('en')} grafts in one line: up to 999,999 are read.`,
      };
}
