import type { Comparison } from '#server/engine/figures/compare.ts';
import { capital } from '#server/engine/figures/wording.ts';
import { comparisonSentence, slopeSentence } from '#server/engine/figures/words.ts';
import { countText, numberText } from '#server/engine/say.ts';
import type { SeasonReport } from '#server/engine/season-report.ts';
import { escaped } from './html.ts';

/** What the record can say and what it can't: part of the answer, so at least one line always. */
export function limitsPart(report: SeasonReport): string {
  const { stats, slopes } = report;
  const all = stats.comparisons.length;
  const told = ({ word }: Comparison) => word !== 'unclear';
  const can = [
    ...stats.comparisons.filter(told).map((one) => comparisonSentence(one, all)),
    ...slopes.filter(({ word }) => word === 'better' || word === 'worse').map(slopeSentence),
  ];
  const cannot = [
    ...stats.comparisons.filter((one) => !told(one)).map((one) => comparisonSentence(one, all)),
    ...slopes.filter(({ word }) => word !== 'better' && word !== 'worse').map(slopeSentence),
    ...openOnes(report),
  ];
  const list = (lines: readonly string[]) =>
    `<ul>${lines.map((text) => `<li>${escaped(capital(text))}</li>`).join('')}</ul>`;
  return `<div class="two"><div><h3>It can say</h3>${can.length > 0 ? list(can) : '<p>Of season, method and hand nothing yet: too few ways side by side, or too few judged.</p>'}</div>
<div><h3>It can’t say</h3>${list(cannot)}</div></div>
${all > 0 ? '<p class="note">Ten points more: of 100 grafts ten more took. In brackets: how small or large the difference may well be. A sitting is what was grafted of one batch on one day.</p>' : ''}`;
}

function openOnes({ seasons, all, frost, stats }: SeasonReport): string[] {
  const out: string[] = [];
  const season = seasons[0]?.group;
  if (season && season.open > 0)
    out.push(
      `How ${season.open === season.grafted ? 'this season’s grafts' : 'the rest of this season'} will take: ${numberText(season.open)} of ${numberText(season.grafted)} are still to judge, and losses show before takes.`,
    );
  const unknown = all?.causes.unknown ?? 0;
  if (unknown > 0) out.push(`What killed ${countText(unknown, 'graft')}: no cause is noted.`);
  if (frost.nights === null) out.push('How cold it was on nights nobody read: no weather station is named in the log.');
  const unread = frost.places.filter(({ place, readings }) => place !== null && readings === 0);
  if (unread.length > 0)
    out.push(
      `How cold it was inside ${unread.map(({ place }) => place).join(', ')}: no thermometer there was read while untaken grafts stood in it.`,
    );
  if (out.length === 0 && stats.comparisons.length === 0)
    out.push('Why one batch did better than another: no two ways of season, method or hand are judged side by side.');
  if (out.length === 0) out.push('How the next season will go: a record tells of its own years.');
  return out;
}
