import { fromDay, toDay } from '#grammar/values/date.ts';
import { greatest, least } from '#grammar/values/extremes.ts';
import type { PlaceNights } from '#server/engine/figures/frost-nights.ts';
import { countText, dayText, rangeText } from '#server/engine/say.ts';
import type { SeasonReport } from '#server/engine/season-report.ts';
import { type Across, across, bar, cell, line, monthHead, monthLines, monthsOf, short } from './drawing.ts';
import { escaped } from './html.ts';

const deep = 90;
const flat = 34;

/** Frost nights hanging from 0 °C, and beneath them what stood in each place that had not taken yet. */
export function frostNightsPart({ frost, day, seasons }: SeasonReport): string {
  const season = seasons[0];
  if (!season) return '<p>No grafts on record yet.</p>';
  const { nights, places } = frost;
  const known = [
    ...(nights ?? []).map((night) => night.day),
    ...places.flatMap(({ frosts }) => frosts.map((night) => night.day)),
  ];
  const last = Math.min(day, season.to);
  const [from, to] =
    known.length > 0
      ? [least(known) - 10, Math.min(last, greatest(known) + 10)]
      : [Math.min(last, ...places.flatMap(({ stood }) => stood.map((run) => run.from))), last];
  const x = across(from, Math.max(to, from + 1));
  const months = monthsOf(from, to);
  const station = nights === null ? '' : stationRow(nights, x, months, day);
  const rows = places.map((place) => placeRow(place, x, months, day));
  const source =
    nights === null
      ? 'No weather station is read for this log, so only readings at the places are known.'
      : 'Bars hang from 0\u00A0°C at the weather station.';
  return `<p class="note">${source} Beneath: when grafts stood there that had not taken yet; filled: nights below 0\u00A0°C with nothing on record against frost, or with frost read inside. A taken graft is left out, a union that is still growing is what frost kills.</p>
<table class="drawn frost" role="table"><caption>Table 5. Frost nights and what stood where</caption><thead role="rowgroup"><tr role="row"><th scope="col" role="columnheader">where</th><th scope="col" role="columnheader" class="plot">${monthHead(x, months)}<span class="hidden">drawn</span></th><th scope="col" role="columnheader">what is known</th></tr></thead><tbody role="rowgroup">
${station}
${rows.join('\n')}
</tbody></table>`;
}

type Nights = NonNullable<SeasonReport['frost']['nights']>;

function stationRow(nights: Nights, x: Across, months: readonly number[], day: number): string {
  const coldest = nights.reduce<Nights[number] | undefined>(
    (low, night) => (low && low.min <= night.min ? low : night),
    undefined,
  );
  const scale = deep / Math.max(1, -(coldest?.min ?? -1));
  const bars = nights.map(
    ({ day: on, min }) => `<rect class="frost-night" x="${x.x(on)}" width="2" y="1" height="${short(-min * scale)}"/>`,
  );
  const words = coldest
    ? `${countText(nights.length, 'night')} below 0\u00A0°C, the coldest ${celsius(coldest.min)} on ${dayText(coldest.day, day)}`
    : 'no night below 0\u00A0°C';
  return `<tr role="row"><th scope="row" role="rowheader"><b>station</b></th><td role="cell" class="plot">${cell(deep + 4, `${monthLines(x, months, deep + 4)}${line('axis', '0%', '100%', 1, 1)}${bars.join('')}`)}</td><td role="cell" class="words">${words}</td></tr>`;
}

function placeRow(
  { place, stood, frosts, readings, lowest }: PlaceNights,
  x: Across,
  months: readonly number[],
  day: number,
): string {
  const runs = stood.map((run) => bar('stood', x.at(run.from), x.at(run.to + 1), 9, 16));
  const bare = frosts.map(({ day: on }) => `<rect class="bare" x="${x.x(on)}" width="4" y="9" height="16"/>`);
  const most = Math.max(0, ...stood.map((run) => run.most));
  const days = stood.map((run) => rangeText(run.from, run.to, day)).join(', ');
  const read =
    lowest === null ? 'no reading' : `lowest read ${celsius(lowest)}, of ${countText(readings, 'night')} read`;
  const frost =
    frosts.length === 0
      ? ''
      : `; <b class="overdue">▲ ${countText(frosts.length, 'night')} below 0\u00A0°C with up to ${countText(greatest(frosts.map(({ grafts }) => grafts)), 'graft')}</b>, ${frosts
          .slice(0, 4)
          .map((night) => `${dayText(night.day, day)} ${celsius(night.min)}`)
          .join(', ')}${frosts.length > 4 ? ' …' : ''}`;
  return `<tr role="row"><th scope="row" role="rowheader"><b>${escaped(place ?? 'no place noted')}</b> <small>up to ${countText(most, 'graft')}</small></th><td role="cell" class="plot">${cell(flat, `${monthLines(x, months, flat)}${runs.join('')}${bare.join('')}`)}</td><td role="cell" class="words">${days}; ${read}${frost}</td></tr>`;
}

/** A true minus. */
const celsius = (degrees: number): string => `${degrees < 0 ? '−' : ''}${Math.abs(degrees)}\u00A0°C`;

/** Nights of each month, and its coldest. */
export function frostTable({ frost: { nights } }: SeasonReport): string {
  if (!nights || nights.length === 0) return '';
  const months = new Map<number, number[]>();
  for (const { day, min } of nights) {
    const { year, month } = fromDay(day);
    const first = toDay(year, month, 1);
    months.set(first, [...(months.get(first) ?? []), min]);
  }
  const rows = [...months].map(
    ([first, mins]) =>
      `<tr><th scope="row">${dayText(first).replace(/^\d+ /, '')} ${fromDay(first).year}</th><td class="number">${mins.length}</td><td class="number">${celsius(least(mins))}</td></tr>`,
  );
  return `<table class="figures"><caption>Table 8. Nights below 0 °C at the station</caption><thead><tr><th scope="col">month</th><th scope="col" class="number">nights</th><th scope="col" class="number">coldest</th></tr></thead><tbody>${rows.join('\n')}</tbody></table>`;
}
