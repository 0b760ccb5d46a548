import { isDetached, type OffSeason } from '../practice.ts';
import { inParts } from './calendar.ts';
import { bySitting, daySpan } from './case.ts';
import { of } from './scion.ts';
import { methodWord, monthOf, sentence } from './words.ts';

/** Grafted at a time of the year that is known to cost takes. */
export const seasonOff = bySitting((sitting, env) => {
  const off = env.practice
    .off(sitting.subject)
    .filter((season) => inParts(sitting.day, season.parts, season.row, sitting.subject, env))
    .sort((a, b) => Number(b.severity === 'warning') - Number(a.severity === 'warning'));
  const [worst] = off;
  if (!worst) return [];
  return [
    of(sitting, {
      entry: sitting.made,
      span: daySpan(sitting.made),
      severity: worst.severity,
      message: sentence(
        `${who(worst, sitting.cohort)} grafted in ${monthOf(sitting.day)}: out of season${why(worst)}.`,
      ),
    }),
  ];
});

function who(
  season: OffSeason,
  {
    method,
    scion,
  }: { readonly method?: Parameters<typeof methodWord>[0]; readonly scion?: { readonly genus: string } },
) {
  const byPlant = season.row.scopes.some(({ kind }) => kind === 'plant' || kind === 'group');
  if (byPlant && scion) return scion.genus;
  const words = isDetached(method) && !method ? 'grafts' : methodWord(method);
  return words.charAt(0).toUpperCase() + words.slice(1);
}

const why = ({ row }: OffSeason) => (row.source ? ` (${row.source})` : '');
