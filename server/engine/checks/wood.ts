import { isDetached } from '../practice.ts';
import { below } from '../practice-match.ts';
import { amountOf, bySitting, placedOn, rangeOf, wordOf } from './case.ts';
import { of } from './scion.ts';
import { durationText, sentence } from './words.ts';

const woodIs = (word: 'soft' | 'old', message: string) =>
  bySitting((sitting) => {
    const wood = sitting.fact('wood');
    if (wordOf(wood) !== word || !isDetached(sitting.cohort.method)) return [];
    const at = placedOn([wood]);
    if (!at) return [];
    return [of(sitting, { ...at, severity: 'warning', message })];
  });

export const woodSoft = woodIs(
  'soft',
  'Soft wood dries before it knits: ripened wood of last year’s extension is wanted.',
);
export const woodOld = woodIs('old', 'Old wood knits slowly: ripened wood of last year’s extension is wanted.');

/** A shoot that was cut back not long ago made a short, crowded extension. */
export const woodPruned = bySitting((sitting, env) => {
  const unpruned = sitting.fact('unpruned');
  const time = rangeOf(amountOf(unpruned));
  const limit = time && env.practice.limits('unpruned', sitting.subject).find(({ amount }) => below(time.low, amount));
  const at = limit && placedOn([unpruned]);
  if (!limit || !at) return [];
  return [
    of(sitting, {
      ...at,
      severity: limit.severity,
      practice: limit.row.entry,
      message: sentence(
        `Shoot pruned ${durationText(time.low)} ago: one left alone ${durationText(limit.low ?? 0)} and more makes a long extension.`,
      ),
    }),
  ];
});
