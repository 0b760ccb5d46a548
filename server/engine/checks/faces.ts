import { below } from '../practice-match.ts';
import { thicknessOf } from '../subject.ts';
import { amountOf, bySitting, placedOn, rangeOf } from './case.ts';
import { between, mm, sentence, share } from './words.ts';

/** A long face too short to hold the scion and to heal. There is no upper edge: small faces have lived as well as long ones. */
export const faceShort = bySitting((sitting, env) => {
  const long = sitting.fact('long');
  const face = rangeOf(amountOf(long));
  if (!face) return [];
  const scion = sitting.fact('scion');
  const thick = thicknessOf(scion);
  for (const limit of env.practice.limits('long', sitting.subject)) {
    const asRatio = limit.row.key === 'long-ratio';
    if (limit.low === undefined || (asRatio && !thick)) continue;
    const least = asRatio ? limit.low * (thick?.high ?? 0) : limit.low;
    if (!below(face.low, { ...limit.amount, low: least })) continue;
    const at = placedOn(asRatio ? [long, scion] : [long]);
    if (!at) return [];
    const on = thick ? ` on a ${between(thick, mm)} scion` : '';
    return [
      {
        severity: limit.severity,
        practice: limit.row.entry,
        ...at,
        message: sentence(`Face ${between(face, mm)}: at least ${mm(least)}${on}, to hold the scion and to heal.`),
        numbers: sitting.numbers,
        cohort: sitting.cohort,
        day: sitting.day,
      },
    ];
  }
  return [];
});

/** A second face nearly as long as the first leaves a wedge instead of a scion with one face to grow on. */
export const facesLevel = bySitting((sitting, env) => {
  const [long, short] = [sitting.fact('long'), sitting.fact('short')];
  const [first, second] = [rangeOf(amountOf(long)), rangeOf(amountOf(short))];
  if (!first || !second) return [];
  const ratio = second.high / first.low;
  for (const limit of env.practice.limits('short', sitting.subject)) {
    if (limit.high === undefined || ratio <= limit.high + 1e-9) continue;
    const at = placedOn([short, long]);
    if (!at) return [];
    return [
      {
        severity: limit.severity,
        practice: limit.row.entry,
        ...at,
        message: sentence(
          `Second cut ${between(second, mm)} against ${between(first, mm)}: up to ${share(limit.high)} of it, one quick cut, is usual.`,
        ),
        numbers: sitting.numbers,
        cohort: sitting.cohort,
        day: sitting.day,
      },
    ];
  }
  return [];
});
