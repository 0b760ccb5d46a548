import { area, line as curve, curveStepAfter } from 'd3-shape';
import { aliveOn, type Survival } from '#server/engine/figures/survival.ts';
import { numberText, percent } from '#server/engine/say.ts';
import type { SeasonReport } from '#server/engine/season-report.ts';
import { type Across, across, figure, line, short } from './drawing.ts';
import { escaped } from './html.ts';

interface Curve {
  readonly name: string;
  readonly survival: Survival;
  readonly end: number;
}

const height = 180;
const top = 18;

/** Those still alive by days since grafting, all together and by the season they were made in, and the same as a table. */
export function survivalCurves({ stats, survivals }: SeasonReport): string {
  if (!stats.survival) return '';
  const curves = [
    ...survivals.map(({ season, survival }) => curveOf(season ?? 'no season', survival)),
    ...(survivals.length < 4 ? [curveOf('all', stats.survival)] : []),
  ];
  const last = Math.max(1, ...curves.map(({ end }) => end));
  const lowest = Math.min(
    1,
    ...curves.flatMap(({ survival }) => survival.points.map(({ share, low }) => low ?? share)),
  );
  // room for the name of the lowest curve beneath it
  const floor = Math.max(0, Math.floor(Math.min(0.9, lowest - 0.05) * 10) / 10);
  const x = across(0, last);
  const y = (share: number) => top + ((1 - share) / (1 - floor)) * height;
  const shares = across(floor, 1).ticks(4);
  const grid = shares.map(
    (share) =>
      `${line('rule', '0', '100%', short(y(share)), short(y(share)))}<text x="0" y="${short(y(share) - 4)}">${Math.round(share * 100)}${share === 1 ? '\u00A0% still alive' : ''}</text>`,
  );
  const days = x.ticks(4).map((day) => {
    const anchor = day === 0 ? 'start' : x.at(day) > 95 ? 'end' : 'middle';
    return `${line('axis', x.x(day), x.x(day), top + height, top + height + 5)}<text x="${x.x(day)}" y="${top + height + 18}" text-anchor="${anchor}">${day === 0 ? 'day 0' : day}</text>`;
  });
  const drawn = curves.map((one, i) => path(one, i, x, y));
  const told = curves.map(
    ({ name, survival, end }) => `${name}: ${percent(aliveOn(survival, end))} alive on day ${end}`,
  );
  const content = `${grid.join('')}${days.join('')}${drawn.join('')}${labels(curves, x, y)}`;
  return `<figure>${figure('losses', { title: 'Grafts still alive by days since grafting', told: `Falling step curves. ${told.join('; ')}. Figures in table 2.`, height: top + height + 24 }, content)}</figure>
<p class="note">The share axis starts at ${percent(floor)}. A step stands on the day a loss was seen; a graft that nobody wrote of again counts as far as it was watched. A curve ends where nobody has been watched longer, and its last stretch rests on few.</p>
${table(curves)}`;
}

const curveOf = (name: string, survival: Survival): Curve => ({
  name,
  survival,
  end: survival.watched.at(-1)?.day ?? 0,
});

/** Curves share one box of 100 by its height in pixels, stretched over the drawing; lines keep their width. */
function path({ survival, end }: Curve, i: number, x: Across, y: (share: number) => number): string {
  const points = [{ day: 0, share: 1, low: null, high: null }, ...survival.points, { ...lastOf(survival), day: end }];
  const steps = curve<(typeof points)[number]>()
    .x(({ day }) => round(x.at(day)))
    .y(({ share }) => round(y(share)))
    .curve(curveStepAfter)(points);
  const band = area<(typeof points)[number]>()
    .defined(({ low, high }) => low !== null && high !== null)
    .x(({ day }) => round(x.at(day)))
    .y0(({ low }) => round(y(low ?? 0)))
    .y1(({ high }) => round(y(high ?? 0)))
    .curve(curveStepAfter)(points);
  return `<svg width="100%" height="${top + height}" viewBox="0 0 100 ${top + height}" preserveAspectRatio="none">${band ? `<path class="band" d="${band}"/>` : ''}<path class="curve curve-${i}" d="${steps}"/></svg><circle class="end" cx="${x.x(end)}" cy="${short(y(aliveOn(survival, end)))}" r="3.5"/>`;
}

const lastOf = ({ points }: Survival) => points.at(-1) ?? { share: 1, low: null, high: null };
const round = (figure: number): number => Math.round(figure * 100) / 100;

/** Each at the end of its curve, pushed down where two would touch. */
function labels(curves: readonly Curve[], x: Across, y: (share: number) => number): string {
  let before = Number.NEGATIVE_INFINITY;
  return curves
    .map((one) => ({ ...one, share: aliveOn(one.survival, one.end) }))
    .sort((a, b) => b.share - a.share)
    .map(({ name, share, end }) => {
      // the uppermost stands above its curve, where no other runs
      const at = Math.max(y(share) + (before === Number.NEGATIVE_INFINITY ? -8 : 16), before + 16);
      before = at;
      const late = x.at(end) > 60;
      return `<text class="strong" x="${x.x(end)}" dx="${late ? 0 : 8}" y="${short(Math.min(at, top + height - 2))}" text-anchor="${late ? 'end' : 'start'}">${escaped(name)}, ${percent(share)}</text>`;
    })
    .join('');
}

function table(curves: readonly Curve[]): string {
  const head = curves.map(({ name }) => `<th scope="col" class="number">${escaped(name)}</th>`).join('');
  const days = [...new Set(curves.flatMap(({ survival }) => survival.watched.map(({ day }) => day)))].sort(
    (a, b) => a - b,
  );
  const rows = days.map((day) => {
    const cells = curves.map(({ survival, end }) => {
      const count = survival.watched.find((one) => one.day === day)?.count;
      if (day > end) return '<td class="number">–</td>';
      const alive = day === 0 ? '' : percent(aliveOn(survival, day));
      const watched = count === undefined ? '' : `<small>${numberText(count)} watched</small>`;
      return `<td class="number">${alive} ${watched}</td>`;
    });
    return `<tr><th scope="row">day ${day}</th>${cells.join('')}</tr>`;
  });
  return `<table class="alive"><caption>Table 2. Still alive by days since grafting, and how many were watched that long</caption><thead><tr><th scope="col">since grafting</th>${head}</tr></thead><tbody>${rows.join('\n')}</tbody></table>`;
}
