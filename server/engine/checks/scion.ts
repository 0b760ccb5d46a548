import { above, below } from '../practice-match.ts';
import { isDetached } from '../practice-subject.ts';
import { thicknessOf } from '../subject.ts';
import { amountOf, bySitting, placedOn, rangeOf, type Seen, type Sitting, sound } from './case.ts';
import { between, mm, sentence } from './words.ts';

/** Buds have no needles, and what is still on its own roots may keep all. */
const leavesNeedles = ({ cohort: { method } }: Sitting): boolean => method === undefined || isDetached(method);

/** More needles than the union can feed before it carries. */
export const whorlsMany = bySitting((sitting, env) => {
  const whorls = leavesNeedles(sitting) ? sitting.fact('whorls') : undefined;
  const rings = rangeOf(amountOf(whorls));
  const limit = rings && env.practice.limits('whorls', sitting.subject).find(({ amount }) => above(rings.high, amount));
  const at = limit && placedOn([whorls]);
  if (!limit || !at) return [];
  const rest = `leave ${ringsText(limit)}; the rest dries the scion before the union feeds it`;
  return [
    of(sitting, {
      ...at,
      severity: limit.severity,
      practice: limit.row.entry,
      message: `${rangeText(rings)}: ${rest}.`,
    }),
  ];
});

/** No needles left to draw sap. */
export const whorlsFew = bySitting((sitting, env) => {
  const whorls = leavesNeedles(sitting) ? sitting.fact('whorls') : undefined;
  const rings = rangeOf(amountOf(whorls));
  const limit = rings && env.practice.limits('whorls', sitting.subject).find(({ amount }) => below(rings.low, amount));
  const at = limit && placedOn([whorls]);
  if (!limit || !at) return [];
  return [
    of(sitting, {
      ...at,
      severity: limit.severity,
      practice: limit.row.entry,
      message: `${rangeText(rings)}: leave ${ringsText(limit)}, so that the scion goes on drawing sap.`,
    }),
  ];
});

/** A scion so short that it is hard to hold. */
export const scionShort = bySitting((sitting, env) => {
  const scion = sitting.fact('scion');
  const value = sound(scion)?.fact.value;
  const length = value?.kind === 'size' ? rangeOf(value.along) : undefined;
  const limit = length && env.practice.limits('scion', sitting.subject).find(({ amount }) => below(length.low, amount));
  const at = limit && placedOn([scion]);
  if (!limit || !at) return [];
  const face = rangeOf(amountOf(sitting.fact('long')));
  const hold = face ? `hard to hold with a ${between(face, mm)} face` : 'hard to hold';
  return [
    of(sitting, {
      ...at,
      severity: limit.severity,
      practice: limit.row.entry,
      message: sentence(`Scion ${between(length, mm)} long: ${hold}; at least ${mm(limit.low ?? 0)} is usual.`),
    }),
  ];
});

/** A scion thicker than its stock: the two figures may have been swapped. */
export const scionThick = bySitting((sitting, env) => {
  const [scion, stock] = [sitting.fact('scion'), sitting.fact('stock')];
  const [thick, wide] = [thicknessOf(scion), rangeOf(amountOf(stock))];
  const at = placedOn([scion, stock]);
  if (!thick || !wide || !at) return [];
  const limit = env.practice
    .limits('scion-ratio', sitting.subject)
    .find(({ amount }) => above(thick.high / wide.low, amount));
  if (!limit) return [];
  return [
    of(sitting, {
      ...at,
      severity: limit.severity,
      practice: limit.row.entry,
      message: `Scion ${between(thick, mm)} on a ${between(wide, mm)} stock: are the two swapped?`,
    }),
  ];
});

const rangeText = ({ low, high }: { readonly low: number; readonly high: number }) => {
  if (high === 0) return 'No needle rings';
  return low === high ? `${low} needle ${low === 1 ? 'ring' : 'rings'}` : `${low} to ${high} needle rings`;
};

function ringsText({ low, high }: { readonly low?: number; readonly high?: number }): string {
  if (low === undefined) return `up to ${high}`;
  if (high === undefined) return `at least ${low}`;
  if (high === low) return `${low}`;
  return high === low + 1 ? `${low} or ${high}` : `${low} to ${high}`;
}

/** Fills in whom a finding on facts is about. */
export function of(sitting: Sitting, seen: Omit<Seen, 'numbers' | 'cohort' | 'day'>): Seen {
  return { ...seen, numbers: sitting.numbers, cohort: sitting.cohort, day: sitting.day };
}
