import type { Cohort } from '../model.ts';
import type { OffSeason } from '../practice.ts';
import { inParts } from './calendar.ts';
import { bySitting, daySpan } from './case.ts';
import { of } from './scion.ts';
import { methodWord, monthOf, withWhy } from './words.ts';

/** Grafted at a time of the year that is known to cost takes. */
export const seasonOff = bySitting((sitting, env) => {
  const seasons = env.practice.off(sitting.subject);
  if (seasons.length === 0) return [];
  const off = seasons
    .filter((season) => inParts(sitting.day, season.parts, season.row, sitting.subject, env))
    .sort((a, b) => Number(b.severity === 'warning') - Number(a.severity === 'warning'));
  const [worst] = off;
  if (!worst) return [];
  return [
    of(sitting, {
      entry: sitting.made,
      span: daySpan(sitting.made),
      severity: worst.severity,
      practice: worst.row.entry,
      message: withWhy(`${who(worst, sitting.cohort)} in ${monthOf(sitting.day)}: out of season`, worst.row.source),
    }),
  ];
});

function who({ row }: OffSeason, { method, scion }: Cohort): string {
  const byPlant = row.scopes.some(({ kind }) => kind === 'plant' || kind === 'group');
  if (byPlant && scion) return `${scion.genus} grafted`;
  const words = methodWord(method);
  return `${words.charAt(0).toUpperCase()}${words.slice(1)} made`;
}
