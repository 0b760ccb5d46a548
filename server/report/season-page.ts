import { fromDay } from '#grammar/values/date.ts';
import { uncapital } from '#server/engine/figures/wording.ts';
import { survivalSentence } from '#server/engine/figures/words.ts';
import {
  answerNote,
  answerSentence,
  frostHead,
  lostMostSentence,
  needsNow,
  openingHead,
  ratesHead,
  workHead,
} from '#server/engine/figures/words-season.ts';
import { countText, dayText, numberText, weekdayText } from '#server/engine/say.ts';
import type { SeasonReport } from '#server/engine/season-report.ts';
import { causesPart } from './causes.ts';
import { cautions } from './cautions.ts';
import { figure, patterns } from './drawing.ts';
import { forestPlot } from './forest-plot.ts';
import { frostNightsPart, frostTable } from './frost-nights.ts';
import { escaped, htmlPage } from './html.ts';
import { limitsPart } from './limits.ts';
import { openingCalendar, openingTable } from './opening-calendar.ts';
import style from './report.css' with { type: 'text' };
import { survivalCurves } from './survival-curve.ts';
import { workWeeks } from './work-weeks.ts';

interface Part {
  readonly id: string;
  /** In the list of parts. */
  readonly name: string;
  /** What is found. */
  readonly head: string;
  readonly body: string;
}

/** The season report: the answer first, then what it rests on, and what the record can’t say. */
export function seasonPage(report: SeasonReport): string {
  const season = report.seasons[0];
  const name = season ? `${report.name}, season ${season.name}` : report.name;
  const asOf = `${weekdayText(report.day)} ${fromDay(report.day).year}`;
  const parts = season ? partsOf(report) : [];
  const body = `${patterns}
<header>
<h1>${escaped(name)}</h1>
${head(report, asOf)}
${parts.length > 0 ? `<nav aria-label="Parts of the report">${parts.map(({ id, name: label }) => `<a href="#${id}">${label}</a>`).join(' ')}</nav>` : ''}
</header>
<main>
${parts.map(({ id, head: found, body: content }) => `<section id="${id}">\n<h2>${escaped(found)}</h2>\n${content}\n</section>`).join('\n')}
</main>
<footer>
${cautions}
<p>Made by Graft Log from the log as it stood on ${asOf}. Nothing in this page is loaded from anywhere.</p>
</footer>`;
  return htmlPage({
    title: `${name}: season report`,
    style: `${style}\n${runningFoot(`${name}, as of ${asOf}`)}`,
    body,
  });
}

function partsOf(report: SeasonReport): Part[] {
  const losses = report.stats.survival ? survivalSentence(report.stats.survival) : '';
  const [firstLoss = '', ...moreLosses] = losses.split(/(?<=\.) /);
  const frost = frostTable(report);
  const opening = openingTable(report);
  return [
    { id: 'rates', name: 'Take rates', head: ratesHead(report), body: `${ratesNote(report)}\n${forestPlot(report)}` },
    {
      id: 'losses',
      name: 'Losses over time',
      head: firstLoss.replace(/\.$/, '') || 'Nothing was lost so far',
      body: `${moreLosses.length > 0 ? `<p>${escaped(moreLosses.join(' '))}</p>` : ''}${survivalCurves(report)}`,
    },
    {
      id: 'causes',
      name: 'Causes',
      head: report.seasons[0] ? lostMostSentence(report.seasons[0].group).replace(/\.$/, '') : '',
      body: causesPart(report),
    },
    {
      id: 'opening',
      name: 'Opening',
      head: `Opening: ${uncapital(openingHead(report.openings))}`,
      body: openingCalendar(report),
    },
    { id: 'frost', name: 'Frost', head: frostHead(report.frost), body: frostNightsPart(report) },
    { id: 'work', name: 'Work ahead', head: workHead(report), body: workWeeks(report) },
    { id: 'limits', name: 'What it can’t say', head: 'What this record can and can’t say', body: limitsPart(report) },
    ...(opening || frost
      ? [{ id: 'figures', name: 'Figures', head: 'The figures behind the drawings', body: `${opening}\n${frost}` }]
      : []),
  ];
}

function ratesNote({ stats, all }: SeasonReport): string {
  const usual = stats.ranking
    ? ' Upright tick and “next time”: what to count on, a batch drawn towards the rest, so that 3 of 3 doesn’t lead.'
    : '';
  const middle = all ? ' Dotted line: all on record.' : '';
  return `<p class="note">Taken of those judged. Dot: the rate; bar: how low or high it may really be, luck allowed for (95&nbsp;% interval); diamond: several batches together, allowing for how they differ.${usual}${middle} Less than half judged there is no rate: the ring is the best that can still come.</p>`;
}

function head(report: SeasonReport, asOf: string): string {
  const season = report.seasons[0];
  if (!season || !report.all)
    return `<p class="note">As the log stood on ${asOf}</p>\n<p class="answer">No grafts on record yet.</p>`;
  const { group, batches } = season;
  const several = report.seasons.length > 1;
  const note = answerNote(group);
  const record = several
    ? `; on record since ${dayText(report.seasons.at(-1)?.from ?? 0, -1)}: ${countText(report.all.grafted, 'graft')}`
    : '';
  const rows: [string, string][] = [
    ...before(report),
    ['Lost most to', escaped(lostMostSentence(group))],
    [
      'Needs you now',
      needsNow(report)
        .map(({ overdue, text }) => (overdue ? `<b class="overdue">▲ ${escaped(text)}</b>` : escaped(text)))
        .join('<br>'),
    ],
  ];
  return `<p class="note">As the log stood on ${asOf} · ${countText(batches.length, 'batch', 'batches')}, ${countText(group.grafted, 'graft')} this season${record}</p>
<p class="answer">${escaped(answerSentence(group))}</p>
${strip(report)}
${note ? `<p>${escaped(note)}</p>` : ''}
<dl>${rows.map(([term, told]) => `<dt>${term}</dt><dd>${told}</dd>`).join('\n')}</dl>`;
}

/** The last season before, then the whole record. */
function before({ seasons, all }: SeasonReport): [string, string][] {
  const last = seasons[1];
  if (!last || !all) return [];
  return [
    [`Season ${last.name}`, escaped(answerSentence(last.group))],
    ['All on record', escaped(answerSentence(all))],
  ];
}

/** Taken, lost and to judge to scale. */
function strip({ seasons }: SeasonReport): string {
  const group = seasons[0]?.group;
  if (!group || group.grafted === 0) return '';
  const { grafted, taken, failed, open } = group;
  const parts = [
    ['taken', '●', taken],
    ['lost', '×', failed],
    ['to-judge', '○', open],
  ] as const;
  let at = 0;
  const bars = parts.map(([kind, , count]) => {
    const from = at;
    at += (100 * count) / grafted;
    const gap = count > 0 && at < 99.9 ? 0.25 : 0;
    return count > 0
      ? `<rect class="${kind}" x="${from.toFixed(2)}%" width="${Math.max(0.2, at - from - gap).toFixed(2)}%" y="1" height="18"/>`
      : '';
  });
  const told = `Of ${numberText(grafted)} grafts ${numberText(taken)} are taken, ${numberText(failed)} lost, ${numberText(open)} still to judge`;
  const key = parts.map(
    ([kind, mark, count]) => `<span class="key-${kind}">${mark} ${numberText(count)} ${kind.replace('-', ' ')}</span>`,
  );
  return `<div class="strip">${figure('share', { title: 'The season’s grafts', told: `${told}.`, height: 20 }, bars.join(''))}</div>
<p class="key">${key.join(' ')}</p>`;
}

/** On each printed page; the name is a log’s, so every sign but letters and figures is written as its number. */
function runningFoot(text: string): string {
  const safe = [...text.slice(0, 80)]
    .map((sign) => (/[\p{L}\p{N}]/u.test(sign) ? sign : `\\${sign.codePointAt(0)?.toString(16)} `))
    .join('');
  return `@page { @bottom-left { content: "${safe}"; font: 8.5pt sans-serif; } }`;
}
