import { greatest } from '#grammar/values/extremes.ts';
import { uncapital } from '#server/engine/figures/wording.ts';
import { causesOf, causeText, lostMostSentence } from '#server/engine/figures/words-season.ts';
import { numberText } from '#server/engine/say.ts';
import type { SeasonReport } from '#server/engine/season-report.ts';
import { bar, cell } from './drawing.ts';
import { escaped } from './html.ts';

/** Batches named beside a cause. */
const named = 3;

/** What the lost were lost to, this season and on the whole record. */
export function causesPart({ seasons, all, stats }: SeasonReport): string {
  const season = seasons[0]?.group;
  if (!all || !season || all.failed === 0) return '<p>Nothing was lost.</p>';
  const several = seasons.length > 1;
  const rows = causesOf(all);
  const most = greatest(rows.map(([, count]) => count));
  const body = rows.map(([cause, count]) => {
    const of = stats.groups
      .flatMap(({ key, causes }) => (causes[cause] ? [[key.batch ?? '', causes[cause]] as const] : []))
      .sort(([, a], [, b]) => b - a);
    const more = of.length > named ? ` and ${of.length - named} more` : '';
    const where = of.slice(0, named).map(([batch, lost]) => `${batch} ${lost}`);
    const kind = cause === 'unknown' ? 'lost unknown-cause' : 'lost';
    const own = several
      ? `<td role="cell" class="number" data-word=" this season">${numberText(season.causes[cause] ?? 0)}</td>`
      : '';
    return `<tr role="row"><th scope="row" role="rowheader">${escaped(causeText(cause))}</th>${own}<td role="cell" class="number" data-word="${several ? ' on record' : ' lost'}">${numberText(count)}</td><td role="cell" class="plot">${cell(22, bar(kind, 0.3, (95 * count) / most, 4, 14))}</td><td role="cell" class="words">${escaped(where.join(', '))}${more}</td></tr>`;
  });
  const head = several ? '<th scope="col" role="columnheader" class="number">this season</th>' : '';
  return `<p class="note">${escaped(several ? `On the whole record ${uncapital(lostMostSentence(all))}` : '')} Causes are as written on the <code>fail</code> lines${rows.some(([cause]) => cause === 'unknown') ? '; dashed: no cause noted' : ''}.</p>
<table class="drawn causes" role="table"><caption>Table 3. Lost, by cause</caption><thead role="rowgroup"><tr role="row"><th scope="col" role="columnheader">cause</th>${head}<th scope="col" role="columnheader" class="number">${several ? 'on record' : 'lost'}</th><th scope="col" role="columnheader"><span class="hidden">drawn</span></th><th scope="col" role="columnheader">most in</th></tr></thead><tbody role="rowgroup">
${body.join('\n')}
</tbody></table>`;
}
