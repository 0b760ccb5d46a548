import type { Day } from '#grammar/statement.ts';
import type { PlanResult } from '#server/engine/figures/plan.ts';
import { tryNext } from '#server/engine/figures/try-next.ts';
import { needsSentences, planGrounds, planSentence, seasonSentence } from '#server/engine/figures/words-ahead.ts';
import { countText, hoursText, numberText, rangeText } from '#server/engine/say.ts';
import { nextPart } from './next-part.ts';
import { bullet, columns, pageDay, paragraph, type TextPage, type TextPart } from './text-page.ts';

/** How many to graft, what that rests on, and what it needs, as a page of text. */
export function planPage(found: PlanResult, day: Day): TextPage {
  const { plan, like } = found;
  const needs = needsSentences(found, day);
  return [
    {
      head: `How many to graft${like === null ? '' : `: ${like}`}, as of ${pageDay(day)}`,
      lines: paragraph(planSentence(found)),
    },
    { head: 'What that rests on', lines: planGrounds(found).flatMap(bullet) },
    ...(needs.length > 0
      ? [{ head: `What ${numberText(plan.graft ?? 0)} grafts need`, lines: needs.flatMap(bullet) }]
      : []),
    ...seasonPart(found, day),
    ...nextPart(tryNext([], [found])),
  ];
}

/** Weeks with work that are shown. */
const shown = 12;

function seasonPart({ plan: { needs } }: PlanResult, day: Day): TextPart[] {
  const { season } = needs;
  if (!season || season.weeks.length === 0) return [];
  const rows = season.weeks
    .slice(0, shown)
    .map(({ from, to, hours, short }) => [
      `  ${rangeText(from, to, day)}`,
      hoursText(hours * 60),
      short > 0 ? `${hoursText(short * 60)} short` : '',
    ]);
  const left = season.weeks.length - shown;
  const more = left > 0 ? [`  and ${countText(left, 'week')} more`] : [];
  return [
    {
      head: 'Their work over the season',
      lines: [...paragraph(seasonSentence(season, day)), ...columns(rows, new Set([1])), ...more],
    },
  ];
}
