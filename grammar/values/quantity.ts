import type { Amount, Measure } from '../statement.ts';

interface Unit {
  readonly measure: Measure;
  readonly to: (figure: number) => number;
  readonly months?: number;
}

const times = (measure: Measure, factor: number): Unit => ({ measure, to: (figure) => clean(figure * factor) });
const fahrenheit: Unit = { measure: 'temperature', to: (figure) => clean(((figure - 32) * 5) / 9) };

/** Units by their spelling; the model keeps mm, shares, °C, days and minutes (1 mo = 30.44 d, 1 y = 365.25 d). */
export const units: Readonly<Record<string, Unit>> = {
  mm: times('length', 1),
  cm: times('length', 10),
  in: times('length', 25.4),
  '%': times('share', 0.01),
  C: times('temperature', 1),
  '°C': times('temperature', 1),
  F: fahrenheit,
  '°F': fahrenheit,
  min: times('minutes', 1),
  h: times('minutes', 60),
  d: times('duration', 1),
  wk: times('duration', 7),
  mo: { ...times('duration', 30.44), months: 1 },
  y: { ...times('duration', 365.25), months: 12 },
};

/** Floating-point dust of a unit's factor taken off: 0.29 * 100 is 29, not 28.999999999999996. */
function clean(figure: number): number {
  return Math.round(figure * 1e9) / 1e9;
}

interface End {
  readonly figure: number;
  readonly unit?: string;
  readonly fraction: boolean;
}

export interface ReadQuantity {
  readonly low?: End;
  readonly high?: End;
  /** A single figure: both ends are it. */
  readonly single: boolean;
  readonly decimalComma: boolean;
  readonly backwards: boolean;
}

const END = /^(?:(\d+) )?(?:(\d+)\/(\d+)|([-−+]?\d+(?:[.,]\d+)?))[ \u00A0]?(mm|cm|in|%|°C|C|°F|F|min|mo|h|d|wk|y)?$/u;
const HYPHENED = /^([-−+]?\d+(?:[.,]\d+)?(?:\/\d+)?[ \u00A0]?(?:mm|cm|in|%|°C|C|°F|F|min|mo|h|d|wk|y)?)[-–](.+)$/u;

/** Figures as the lexer cut them: an amount, a fraction, a number, or an interval of them. `undefined` if it is none. */
export function readQuantity(image: string): ReadQuantity | undefined {
  const decimalComma = /\d,\d/.test(image);
  const dots = image.indexOf('..');
  if (dots < 0) {
    const single = readEnd(image);
    if (single) return { low: single, high: single, single: true, decimalComma, backwards: false };
    const parts = HYPHENED.exec(image);
    return parts ? interval(parts[1] ?? '', parts[2] ?? '', decimalComma) : undefined;
  }
  return interval(image.slice(0, dots).trim(), image.slice(dots + 2).trim(), decimalComma);
}

function interval(left: string, right: string, decimalComma: boolean): ReadQuantity | undefined {
  let low = left ? readEnd(left) : undefined;
  let high = right ? readEnd(right) : undefined;
  if ((left && !low) || (right && !high) || (!low && !high)) return undefined;
  // a unit at one end serves both, but % never a fraction
  if (low && high) {
    if (!low.unit && serves(high.unit, low)) low = { ...low, ...(high.unit ? { unit: high.unit } : {}) };
    else if (!high.unit && serves(low.unit, high)) high = { ...high, ...(low.unit ? { unit: low.unit } : {}) };
  }
  const backwards = low !== undefined && high !== undefined && inModel(low) > inModel(high);
  if (backwards) [low, high] = [high, low];
  return { ...(low ? { low } : {}), ...(high ? { high } : {}), single: false, decimalComma, backwards };
}

/** Comparable whatever the ends are written in: `60d..3y` is no interval written backwards. */
const inModel = ({ figure, unit }: End): number => (unit ? (units[unit]?.to(figure) ?? figure) : figure);

const serves = (unit: string | undefined, end: End) => unit !== undefined && !(unit === '%' && end.fraction);

function readEnd(text: string): End | undefined {
  const parts = END.exec(text);
  if (!parts) return undefined;
  const [, whole, over, under, plain, unit] = parts;
  if (over !== undefined) {
    if (Number(under) === 0) return undefined;
    const figure = Number(whole ?? 0) + Number(over) / Number(under);
    return { figure, fraction: true, ...(unit ? { unit } : {}) };
  }
  if (whole !== undefined) return undefined;
  const figure = Number((plain ?? '').replace('−', '-').replace(',', '.'));
  return { figure, fraction: false, ...(unit ? { unit } : {}) };
}

export type Amounted =
  | { readonly ok: Amount }
  | { readonly fault: 'no-unit' | 'other-unit' | 'open' | 'not-whole'; readonly unit?: string };

/** Puts figures into one of the measures asked for. `number` takes them without a unit; a bare fraction is a share. */
export function toAmount(read: ReadQuantity, measures: readonly Measure[], openAllowed: boolean): Amounted {
  if (!openAllowed && !(read.low && read.high)) return { fault: 'open' };
  let measure: Measure | undefined;
  for (const end of [read.low, read.high]) {
    if (!end) continue;
    const found = measureOf(end, measures);
    if (!found) return { fault: 'no-unit' };
    if (!measures.includes(found) || (measure && measure !== found))
      return { fault: 'other-unit', ...(end.unit ? { unit: end.unit } : {}) };
    measure = found;
  }
  const { low, high } = read;
  const of = { kind: 'amount' as const, measure: measure ?? 'number' };
  if (low && high && !monthsOf(low) && !monthsOf(high))
    return { ok: { kind: 'amount', measure: of.measure, low: inModel(low), high: inModel(high) } };
  return {
    ok: {
      ...of,
      ...(low ? { low: inModel(low) } : {}),
      ...(high ? { high: inModel(high) } : {}),
      ...(low && monthsOf(low) ? { lowMonths: monthsOf(low) } : {}),
      ...(high && monthsOf(high) ? { highMonths: monthsOf(high) } : {}),
    },
  };
}

function measureOf(end: End, measures: readonly Measure[]): Measure | undefined {
  if (end.unit) return units[end.unit]?.measure;
  if (end.fraction && measures.includes('share')) return 'share';
  return measures.includes('number') ? 'number' : undefined;
}

const monthsOf = ({ figure, unit }: End): number => (unit ? Math.round(figure * (units[unit]?.months ?? 0)) : 0);
