import { countText, hoursText, lateText, rangeText, toText, workTitle } from '#server/engine/say.ts';
import type { SeasonReport } from '#server/engine/season-report.ts';
import type { LevelTask, LevelWeek } from '#server/engine/work/level.ts';
import { across, bar, cell, line, short } from './drawing.ts';
import { escaped } from './html.ts';

/** Weeks with work that are shown, and jobs named in one. */
const shown = 12;
const named = 8;

/** Work week by week, with the hours it takes against those there are. */
export function workWeeks({ levelled, hours, day }: SeasonReport): string {
  const busy = levelled.weeks.filter(({ tasks, short: left }) => tasks.length > 0 || left > 0);
  if (busy.length === 0) return '<p>Nothing waits, and nothing is to come.</p>';
  const weeks = busy.slice(0, shown);
  const most = Math.max(
    1,
    ...weeks.map(({ taken, short: left }) => taken + left),
    hours === undefined ? 0 : hours * 60,
  );
  const rows = weeks.map((week) => {
    const x = across(0, most * 1.04);
    const drawn = [
      bar('hours', 0, x.at(week.taken), 8, 12),
      week.short > 0 ? bar('short', x.at(week.taken), x.at(week.taken + week.short), 8, 12) : '',
      hours === undefined ? '' : line('there', x.x(week.minutes), x.x(week.minutes), 2, 26),
    ];
    return `<tr role="row"><th scope="row" role="rowheader">${rangeText(week.from, week.to, day)}</th><td role="cell" class="words">${tasksText(week.tasks, day)}</td><td role="cell" class="plot">${cell(28, drawn.join(''))}</td><td role="cell" class="rate">${hoursOf(week, hours)}</td></tr>`;
  });
  const more =
    busy.length > shown
      ? `<p class="note">And ${countText(busy.length - shown, 'more week', 'more weeks')} with work.</p>`
      : '';
  const rule =
    hours === undefined
      ? 'Each job stands in the first week its window allows, what is late in this one.'
      : `Upright line: the ${hoursText(hours * 60)} a week there are, of a week begun its days’ share. Work goes into the week its window allows, earliest deadline first; hatched: what had to be done by then and fits nowhere.`;
  const left =
    levelled.short.length > 0
      ? `<p><b class="overdue">▲ No hours are left for:</b> ${tasksText(levelled.short, day)}.</p>`
      : '';
  return `<p class="note">${rule} Minutes a graft are those of the practice lines.</p>
<table class="drawn work" role="table"><caption>Table 6. Work by week</caption><thead role="rowgroup"><tr role="row"><th scope="col" role="columnheader">week</th><th scope="col" role="columnheader">work (grafts)</th><th scope="col" role="columnheader"><span class="hidden">drawn</span></th><th scope="col" role="columnheader">time</th></tr></thead><tbody role="rowgroup">
${rows.join('\n')}
</tbody></table>
${more}${left}`;
}

function hoursOf(week: LevelWeek, hours: number | undefined): string {
  const there = hours === undefined ? '' : ` <span>of ${hoursText(week.minutes)}</span>`;
  const left = week.short > 0 ? `<br><span class="overdue">▲ ${hoursText(week.short)} short</span>` : '';
  return `<b>${hoursText(week.taken)}</b>${there}${left}`;
}

function tasksText(tasks: readonly LevelTask[], day: number): string {
  const texts = tasks.slice(0, named).map(({ item, count }) => {
    const what = `${escaped(item.batch.name)} ${workTitle(item)} ${toText(item.to)}`.trim();
    const late = item.by < day ? `, <span class="overdue">${lateText(day - item.by)}</span>` : '';
    return `${what} (${short(count)})${item.state === 'overdue' && !item.waits ? late : ''}`;
  });
  return `${texts.join('; ')}${tasks.length > named ? ` and ${tasks.length - named} more` : ''}`;
}
