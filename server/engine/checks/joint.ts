import { faceWidth } from '../figures/cut-geometry.ts';
import { above, below } from '../practice-match.ts';
import { thicknessOf } from '../subject.ts';
import { amountOf, bySitting, placedOn, rangeOf, sound, wordOf } from './case.ts';
import { depthOf } from './depth.ts';
import { of } from './scion.ts';
import { between, cm, mm, sentence } from './words.ts';

/** On top of a branch a scion makes a weak fork. */
export const sideTop = bySitting((sitting) => {
  const { method } = sitting.cohort;
  const side = sitting.fact('side');
  const at = placedOn([side]);
  if (!at || wordOf(side) !== 'top' || (method !== 'side' && method !== 'side-veneer')) return [];
  return [
    of(sitting, {
      ...at,
      severity: 'warning',
      message:
        'On top of the branch: makes a weak fork. Under for a replaced branch; left, right or under for a new one.',
      mends: () => [
        { title: 'Make it `under`', edits: [{ entry: at.entry, where: 'in', span: at.span, text: 'under' }] },
      ],
    }),
  ];
});

/** Far out on the branch the scion is fed less. A text on the line says the grower knows. */
export const farOut = bySitting((sitting, env) => {
  const out = sitting.fact('out');
  const range = rangeOf(amountOf(out));
  const at = placedOn([out]);
  if (!range || !at || at.entry.line.statement?.remark) return [];
  const limit = env.practice.limits('out', sitting.subject).find(({ amount }) => above(range.high, amount));
  if (!limit) return [];
  return [
    of(sitting, {
      ...at,
      severity: limit.severity,
      practice: limit.row.entry,
      message: `${between(range, cm)} out: close to trunk or fork it is fed better; up to ${cm(limit.high ?? 0)} is usual.`,
    }),
  ];
});

/** No edge of the cambium meets, or both are said to where the widths don't allow it. */
export const cambiumUnmatched = bySitting((sitting, env) => {
  const match = sitting.fact('match');
  const word = wordOf(match);
  if (word === 'none') {
    const at = placedOn([match]);
    const message = 'No edge of the cambium meets: one edge along the whole face is the least a scion can live on.';
    return at ? [of(sitting, { ...at, severity: 'warning', message })] : [];
  }
  const { method } = sitting.cohort;
  if (word !== 'both' || (method !== 'side' && method !== 'side-veneer')) return [];
  const [scion, depth] = [sitting.fact('scion'), depthOf(sitting)];
  const thick = thicknessOf(scion);
  const at = placedOn([match, scion, sitting.fact('cut'), sitting.fact('stock')].map(sound));
  if (!thick || !depth?.length || !depth.stock || !at) return [];
  const { length, stock } = depth;
  const deep = [length.low, length.high];
  const widths = deep.flatMap((depthOfIt) => [stock.low, stock.high].map((wide) => faceWidth(wide, depthOfIt) ?? 0));
  const face = { low: Math.min(...widths), high: Math.max(...widths) };
  if (!(face.low > 0)) return [];
  const ratio = { low: thick.low / face.high, high: thick.high / face.low };
  const limit = env.practice
    .limits('match-ratio', sitting.subject)
    .find(({ amount }) => below(ratio.low, amount) || above(ratio.high, amount));
  if (!limit) return [];
  return [
    of(sitting, {
      ...at,
      severity: limit.severity,
      practice: limit.row.entry,
      message: sentence(
        `Both edges can’t meet: face ${between(face, mm)} at the bottom of the cut, scion ${between(thick, mm)}; match one edge with care.`,
      ),
      mends: () =>
        match
          ? [
              {
                title: 'Make it `match one`',
                edits: [{ entry: match.entry, where: 'in', span: match.fact.span, text: 'match one' }],
              },
            ]
          : [],
    }),
  ];
});

/** A scion moved after it was set tears what had met. */
export const jointReset = bySitting((sitting) => {
  const at = placedOn([sitting.fact('reset')]);
  if (!at) return [];
  return [
    of(sitting, {
      ...at,
      severity: 'warning',
      message: 'Moved after it was set: cambium is torn; set once, one stroke.',
    }),
  ];
});
