import type { Answers } from '#server/engine/answers.ts';
import type { WorkItem } from '#server/engine/model.ts';
import { hoursText, toText, weekdayText, whenText, workTitle } from '#server/engine/say.ts';
import { shownState } from '#server/engine/work/shown-state.ts';
import { escaped, setHtml } from './html.ts';
import { weekHours } from './week-hours.ts';

/**
 * A week on one page: overdue, due, what to watch for, what comes within the week.
 *
 * @param hours there are a week, where somebody said
 */
export function weekSection(answers: Answers, hours?: number): string {
  const { day } = answers;
  const work = answers.work();
  const watched = (item: WorkItem) => item.what === 'watch' || item.what === 'look' || item.what === 'judge';
  const groups: readonly (readonly [string, readonly WorkItem[], string])[] = [
    ['Overdue', work.filter((item) => shownState(item) === 'overdue'), 'Nothing is overdue.'],
    ['Due', work.filter((item) => shownState(item) === 'due' && !watched(item)), 'Nothing is due.'],
    ['Watch', work.filter((item) => shownState(item) === 'due' && watched(item)), 'Nothing to watch for.'],
    ['Within a week', work.filter((item) => item.state === 'soon'), 'Nothing begins this week.'],
  ];
  return `<section class="week">
<h1>The week from ${escaped(weekdayText(day))}</h1>
${hours === undefined ? '' : `<p>Hours of work: ${escaped(weekHours(work, day, hours))}.</p>\n`}${groups.map(([title, items, none]) => `<h2>${title}</h2>\n${items.length > 0 ? table(title, items, day) : `<p>${none}</p>`}`).join('\n')}
<h2>And what else</h2>
<table><tbody>${'<tr class="empty"><td></td></tr>'.repeat(3)}</tbody></table>
</section>`;
}

/** In a narrow window the table is moved sideways in its frame, by keys, too. */
function table(title: string, items: readonly WorkItem[], day: number): string {
  const rows = items.map((item) => {
    const what = item.to ? `${workTitle(item)} ${toText(item.to)}` : workTitle(item);
    const time = item.minutes === undefined ? '' : hoursText(item.minutes);
    return `<tr><td><span class="tick"></span></td><th scope="row">${escaped(item.batch.name)}</th><td>${escaped(what)}<br><span class="small">${escaped(item.why)}</span></td><td class="set">${setHtml(item.grafts)}</td><td>${escaped(item.place ?? '')}</td><td>${escaped(whenText(item, day))}</td><td class="number">${escaped(time)}</td></tr>`;
  });
  return `<div class="wide" role="group" aria-label="${title}" tabindex="0"><table><thead><tr><td></td><th>Batch</th><th>What and why</th><th>Grafts</th><th>Where</th><th>When</th><th class="number">Time</th></tr></thead><tbody>\n${rows.join('\n')}\n</tbody></table></div>`;
}
