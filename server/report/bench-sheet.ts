import { isoDay } from '#grammar/values/date.ts';
import { contains, size } from '#grammar/values/intervals.ts';
import type { Answers } from '#server/engine/answers.ts';
import type { WorkItem } from '#server/engine/model.ts';
import { countText, dayText, lateText, percent, toText, weekdayText, workTitle } from '#server/engine/say.ts';
import { cautions } from './cautions.ts';
import { escaped, htmlPage, setHtml } from './html.ts';
import style from './sheet.css' with { type: 'text' };
import { weekSection } from './week.ts';

/** More grafts than these are counted by the tray, not ticked one by one. */
const mostBoxes = 120;
const tray = 40;

/** Today's bench sheet, to carry and to tick, and the week behind it: black on white, for paper. */
export function benchSheet(answers: Answers, hours?: number): string {
  const { day, log } = answers;
  const name = log.site?.line.statement?.sets[0]?.name.text ?? 'Grafts';
  const due = answers.work().filter(({ state }) => state === 'overdue' || state === 'due');
  const title = `Bench sheet, ${weekdayText(day)}`;
  const body = `<main>
<section class="bench">
<h1>${escaped(name)} · ${escaped(title)}</h1>
<p>In the box: / done, S swelling, F free, D dry, M mould, &times; lost; blank = not seen.</p>
${byPlace(due)
  .map(([place, items]) => `<h2>${escaped(place)}</h2>\n${items.map((item) => jobOf(item, answers)).join('\n')}`)
  .join('\n')}
${due.length === 0 ? '<p>Nothing is due today.</p>' : ''}
<footer>
${due.length > 0 ? `<p>To write in the log this evening:</p>\n<pre>${linesToType(due, day).map(escaped).join('\n')}</pre>` : ''}
${cautions}
</footer>
</section>
${weekSection(answers, hours)}
</main>`;
  return htmlPage({ title: `${name}: ${title}`, style, body });
}

function byPlace(items: readonly WorkItem[]): [string, WorkItem[]][] {
  const places = new Map<string, WorkItem[]>();
  for (const item of items) {
    const place = item.place ?? 'No place noted';
    places.set(place, [...(places.get(place) ?? []), item]);
  }
  return [...places].sort(([a], [b]) => a.localeCompare(b, 'en', { numeric: true }));
}

function jobOf(item: WorkItem, answers: Answers): string {
  const late = item.state === 'overdue' ? lateText(answers.day - item.by) : `by ${dayText(item.by, answers.day)}`;
  const last = lastShare(item, answers);
  const step = item.to
    ? `<span class="step">${last} &rarr; ${escaped(toText(item.to).replace(/^to /, ''))}</span>`
    : '';
  const all = `<p><span class="done"></span> all ${item.count} done${item.to ? ', to ____ %' : ''}</p>`;
  return `<article class="job">
<header><h3>${escaped(item.batch.name)} · ${escaped(workTitle(item))}</h3>${step}<span>${escaped(late)} · ${escaped(countText(item.count, 'graft'))}${item.hand ? ` · ${escaped(item.hand)}` : ''}</span></header>
<p class="small">${setHtml(item.grafts)}: ${escaped(item.why)}</p>
${boxes(item, answers)}
${all}
<div class="notes"></div>
</article>`;
}

function lastShare(item: WorkItem, answers: Answers): string {
  const cohort = cohortsOf(item, answers)[0];
  const share = item.what === 'headback' ? cohort?.headback : cohort?.share;
  return percent(share ?? 0);
}

const cohortsOf = (item: WorkItem, answers: Answers) =>
  answers.of(item.batch.key).history.cohorts.filter((cohort) => contains(item.numbers, cohort.numbers[0] ?? 0));

/** A box a graft with its number, those lost before struck; of many, or of unnamed ones, a box a tray. */
function boxes(item: WorkItem, answers: Answers): string {
  const { batch, numbers } = item;
  if (batch.counted || size(numbers) > mostBoxes) return trays(item);
  const lost = answers.of(batch.key).history.cohorts.filter((cohort) => cohort.fail);
  const [low, high] = [numbers[0] ?? 0, numbers.at(-1) ?? 0];
  const out: string[] = [];
  for (let number = low; number <= high && out.length < 3 * mostBoxes; number++) {
    if (contains(numbers, number)) out.push(`<span class="box">${number}</span>`);
    else if (lost.some((cohort) => contains(cohort.numbers, number)))
      out.push(`<span class="box lost">${number}</span>`);
  }
  return `<div class="boxes">${out.join('')}</div>`;
}

function trays({ count }: WorkItem): string {
  const many = Math.min(24, Math.ceil(count / tray));
  const out = Array.from(
    { length: many },
    (_, i) => `<span class="tray">tray ${i + 1} of ${many}: &nbsp;&nbsp;&nbsp;&nbsp; done</span>`,
  );
  return `<div class="boxes">${out.join('')}</div>`;
}

/** The log's lines with blanks where only the grower knows. */
function linesToType(items: readonly WorkItem[], day: number): string[] {
  const lines = items.map(({ what, grafts, to }) => {
    if (what === 'open' || what === 'headback')
      return `${what.padEnd(7)}  ${grafts}  ${to ? `${Math.round(to.low * 100)}%` : '____'}`;
    if (what === 'take' || what === 'untie' || what === 'sever') return `${what.padEnd(7)}  ${grafts}`;
    return `check    ${grafts}  ____`;
  });
  return [isoDay(day), ...new Set(lines)];
}
