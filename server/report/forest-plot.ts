import { symbol, symbolDiamond } from 'd3-shape';
import type { GraftSeason } from '#server/engine/figures/graft-season.ts';
import type { Group } from '#server/engine/figures/groups.ts';
import { few } from '#server/engine/figures/wording.ts';
import { rankingSentence } from '#server/engine/figures/words.ts';
import { countText, dayText, numberText, percent, rateText } from '#server/engine/say.ts';
import type { SeasonReport } from '#server/engine/season-report.ts';
import { type Across, across, cell, line } from './drawing.ts';
import { escaped } from './html.ts';
import { pairName } from './plant-name.ts';

/** Take rates season by season and batch by batch, each row with its rate and how sure it is drawn beside it. */
export function forestPlot(report: SeasonReport): string {
  const { seasons, all, stats } = report;
  const groups = new Map(stats.groups.map((group) => [group.key.batch, group]));
  const shown = [...groups.values(), ...seasons.map(({ group }) => group), ...(all ? [all] : [])];
  const scale = scaleOf(shown);
  const usual = all && isJudged(all) ? all.rate : null;
  const estimates = new Map(stats.ranking?.items.map(({ name, estimate }) => [name, estimate]));
  const draw = (group: Group, estimate?: number) => plot(group, scale, usual, estimate);
  const bodies = seasons.map((season) => {
    const rows = season.batches
      .flatMap((own) => {
        const name = own[0]?.history.batch.name;
        const group = name === undefined ? undefined : groups.get(name);
        return group && own[0] ? [{ group, first: own[0].cohorts[0], estimate: estimates.get(name ?? ''), own }] : [];
      })
      .sort((a, b) => (b.estimate ?? -1) - (a.estimate ?? -1));
    return `<tbody role="rowgroup">
${seasonRow(season, draw(season.group))}
${rows
  .map(({ group, first, estimate }) => {
    const { scion, interstem, stock, method, madeDay } = first;
    const about = [method ?? '', dayText(madeDay)].filter(Boolean).join(', ');
    const head = `<b>${escaped(group.key.batch ?? '')}</b> <small>${escaped(about)}</small> <span>${pairName([scion, interstem, stock])}</span>`;
    return row('', head, group, draw(group, estimate), estimate);
  })
  .join('\n')}
</tbody>`;
  });
  const total =
    all && seasons.length > 1
      ? `<tbody role="rowgroup">${row('sum', '<b>All on record</b>', all, draw(all))}</tbody>`
      : '';
  return `<table class="rates" role="table">
<caption>Table 1. Take rates by season and batch; in a season the highest to expect first</caption>
<colgroup><col class="wide"><col class="count"><col class="count"><col class="count"><col class="count"><col><col class="rate"><col class="next"></colgroup>
<thead role="rowgroup"><tr role="row"><th scope="col" role="columnheader">batch</th>${['made', 'taken', 'lost', 'to judge'].map((name) => `<th scope="col" role="columnheader" class="number">${name}</th>`).join('')}<th scope="col" role="columnheader" class="plot">${axis(scale)}<span class="hidden">drawn</span></th><th scope="col" role="columnheader" class="rate">took (95&nbsp;%)</th><th scope="col" role="columnheader" class="number">next time</th></tr></thead>
${bodies.join('\n')}
${total}
</table>
${earlyNote(all)}${stats.ranking ? `<p>${escaped(rankingSentence(stats.ranking))}</p>` : ''}`;
}

/** Why a sum has fewer taken than its rows. */
const earlyNote = (all: Group | undefined): string =>
  all && all.basis === 'batches' && all.early > 0
    ? `<p class="note">${numberText(all.early)} called taken too early to count on: taken in the row of their batch, still to judge in the sums.</p>`
    : '';

const seasonRow = ({ name, group, batches }: GraftSeason, drawn: string): string =>
  row('sum', `<b>Season ${escaped(name)}</b> <small>${batchesText(group, batches.length)}</small>`, group, drawn);

const batchesText = ({ batches, taken, failed }: Group, made: number): string =>
  taken + failed === 0 || batches === made
    ? countText(made, 'batch', 'batches')
    : `${batches} of ${made} batches begun to be judged`;

function row(kind: string, head: string, group: Group, drawn: string, estimate?: number): string {
  const counts = [
    [group.grafted, 'made'],
    [group.taken, 'taken'],
    [group.failed, 'lost'],
    [group.open, 'to judge'],
  ] as const;
  const cells = counts
    .map(([count, word]) => `<td role="cell" class="number" data-word=" ${word}">${numberText(count)}</td>`)
    .join('');
  const next = estimate === undefined ? '–' : percent(estimate);
  return `<tr role="row"${kind ? ` class="${kind}"` : ''}><th scope="row" role="rowheader">${head}</th>${cells}<td role="cell" class="plot">${drawn}</td><td role="cell" class="rate">${rateCell(group)}</td><td role="cell" class="number next">${next}</td></tr>`;
}

function rateCell(group: Group): string {
  const text = rateText(group).replace(/^take /, '');
  if (!isJudged(group)) {
    const best = group.best === null || group.failed === 0 ? '' : `<br><span>at most ${percent(group.best)}</span>`;
    return `${escaped(text)}${best}`;
  }
  return escaped(text).replace(/^(\d+\u00A0%)(.*?)(\(.*)$/, '<b>$1</b>$2 <span>$3</span>');
}

const isJudged = ({ grafted, taken, failed }: Group): boolean => taken + failed > 0 && (taken + failed) * 2 >= grafted;

/** From the lowest limit, rounded down to ten and one step of room, to 100. */
function scaleOf(groups: readonly Group[]): Across {
  const lows = groups.filter(isJudged).flatMap(({ low }) => (low === null ? [] : [low]));
  // a ring stands where it stands, and with no rate at all the scale is whole
  const rings = groups.filter((group) => !isJudged(group)).flatMap(({ best }) => (best === null ? [] : [best]));
  const lowest = lows.length === 0 ? 0 : Math.floor(Math.min(0.9, ...lows, ...rings) * 10) / 10 - 0.1;
  return across(Math.max(0, lowest), 1);
}

const axis = (scale: Across): string =>
  cell(
    16,
    scale
      .ticks(4)
      .map((tick) => {
        const at = scale.at(tick);
        const anchor = at > 95 ? 'end' : at < 5 ? 'start' : 'middle';
        return `<text x="${scale.x(tick)}" y="12" text-anchor="${anchor}">${Math.round(tick * 100)}</text>`;
      })
      .join(''),
  );

function plot(group: Group, scale: Across, usual: number | null, estimate?: number): string {
  const rules = scale.ticks(4).map((tick) => line('rule', scale.x(tick), scale.x(tick), 0, '100%'));
  const out = [...rules];
  if (usual !== null) out.push(line('usual', scale.x(usual), scale.x(usual), 0, '100%'));
  const { rate, low, high, best, basis } = group;
  if (!isJudged(group)) {
    if (best !== null || group.grafted > 0) {
      const end = scale.x(best ?? 1);
      out.push(line('unknown', '0%', end, '50%', '50%'), `<circle class="ring" cx="${end}" cy="50%" r="4"/>`);
    }
  } else if (rate !== null && low !== null && high !== null) {
    const sure = group.taken + group.failed >= few;
    out.push(line(sure ? 'interval' : 'unknown', scale.x(low), scale.x(high), '50%', '50%'));
    if (estimate !== undefined) out.push(line('expected', scale.x(estimate), scale.x(estimate), '25%', '75%'));
    if (sure)
      out.push(
        basis === 'batches'
          ? `<svg x="${scale.x(rate)}" y="50%" overflow="visible"><path class="point" d="${diamond}"/></svg>`
          : `<circle class="point" cx="${scale.x(rate)}" cy="50%" r="5"/>`,
      );
  }
  return cell('100%', out.join(''));
}

const diamond = symbol(symbolDiamond, 90)() ?? '';
