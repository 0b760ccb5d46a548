import type { Day } from '#grammar/statement.ts';
import type { Opening } from '#server/engine/figures/opening.ts';
import { openingText } from '#server/engine/figures/words-season.ts';
import { countText, dayText, percent } from '#server/engine/say.ts';
import type { SeasonReport } from '#server/engine/season-report.ts';
import { type Across, across, bar, cell, line, monthHead, monthLines, monthsOf, short } from './drawing.ts';
import { escaped } from './html.ts';

/** Pixels: a wrap wholly open is so high. */
const whole = 50;
const height = 62;
const base = height - 4;

/** How far each wrap is open, day by day: a row a set that was opened alike, its steps as high as the share. */
export function openingCalendar({ openings, day, seasons }: SeasonReport): string {
  if (openings.length === 0) return '<p>No line of this season opens a wrap, and none is to be opened.</p>';
  const shown = [...openings].sort(
    (a, b) => (a.next?.by ?? Number.POSITIVE_INFINITY) - (b.next?.by ?? Number.POSITIVE_INFINITY) || 0,
  );
  const season = seasons[0]?.from ?? day;
  const starts = openings.flatMap(({ swell, steps }) => [swell ?? day, ...steps.map((step) => step.day)]);
  const from = Math.max(season, Math.min(day, ...starts) - 7);
  const to = Math.max(day, ...openings.map(({ next }) => Math.min(next?.by ?? day, day + 60))) + 10;
  const x = across(from, to);
  const months = monthsOf(from, to);
  const rows = shown.map(
    (opening) =>
      `<tr role="row"><th scope="row" role="rowheader"><b>${escaped(opening.grafts)}</b> <small>${escaped(countText(opening.count, 'graft'))}${opening.place === null ? '' : `, ${escaped(opening.place)}`}</small></th><td role="cell" class="plot">${cell(height, monthLines(x, months, height) + drawn(opening, x, day))}</td><td role="cell" class="words${opening.next?.state === 'overdue' ? ' overdue' : ''}">${opening.next?.state === 'overdue' ? '▲ ' : ''}${escaped(openingText(opening, day))}</td></tr>`,
  );
  return `<p class="note">How far the wrap is open: an upright line is a visit with the share above it, a triangle the first swelling, a dot free of the wrap; a dashed box the window of the next step, a hatched one a window gone by. Lost grafts are left out, and sets that were opened alike are one row.</p>
<table class="drawn opening" role="table"><caption>Table 4. Opening of the wrap</caption><thead role="rowgroup"><tr role="row"><th scope="col" role="columnheader">set</th><th scope="col" role="columnheader" class="plot">${monthHead(x, months, day)}<span class="hidden">drawn</span></th><th scope="col" role="columnheader">how far it is, and what is next</th></tr></thead><tbody role="rowgroup">
${rows.join('\n')}
</tbody></table>`;
}

function drawn({ swell, steps, free, next }: Opening, x: Across, today: Day): string {
  const out: string[] = [line('rule', '0%', '100%', base, base)];
  const end = free?.last ?? today;
  for (const [i, { day, share }] of steps.entries()) {
    const till = Math.min(steps[i + 1]?.day ?? end, Math.max(end, day));
    const high = share * whole;
    out.push(bar('step', x.at(day), x.at(till), short(base - high), short(high)));
    out.push(line('visit', x.x(day), x.x(day), short(base - Math.max(high, 3)), base));
    const after = steps[i + 1];
    // a figure that would run into the next one is in the words beside
    if (!after || x.at(after.day) - x.at(day) > 4.5)
      out.push(
        `<text x="${x.x(day)}" dx="3" y="${short(base - high - 4)}">${percent(share).replace(/\u00A0%/, '')}</text>`,
      );
  }
  if (swell !== null)
    out.push(`<svg x="${x.x(swell)}" y="${base}" overflow="visible"><path class="swelling" d="M-5 0L0-9L5 0Z"/></svg>`);
  if (free) out.push(`<circle class="free" cx="${x.x(free.last)}" cy="${base - 5}" r="4.5"/>`);
  if (next) {
    const share = (next.to?.high ?? 1) * whole;
    const kind = next.state === 'overdue' ? 'window-gone' : 'window-next';
    out.push(
      bar(kind, x.at(next.from), Math.max(x.at(next.by + 1), x.at(next.from) + 1), short(base - share), short(share)),
    );
  }
  out.push(line('today', x.x(today), x.x(today), 0, height));
  return out.join('');
}

/** Every step in words, beneath the drawing. */
export function openingTable({ openings, day }: SeasonReport): string {
  if (openings.length === 0) return '';
  const rows = openings.map(({ grafts, swell, steps, free }) => {
    const opened = steps.map((step) => `${dayText(step.day, day)} ${percent(step.share)}`).join(', ');
    const freed =
      free === null
        ? 'not yet'
        : `${dayText(free.first, day)}${free.last === free.first ? '' : ` to ${dayText(free.last, day)}`}`;
    return `<tr><th scope="row">${escaped(grafts)}</th><td class="brief" data-word="swelling ">${swell === null ? 'not seen' : dayText(swell, day)}</td><td data-word="opened ">${opened || 'closed'}</td><td class="brief" data-word="free ">${freed}</td></tr>`;
  });
  return `<table class="figures steps"><caption>Table 7. Every step of the opening</caption><thead><tr><th scope="col">set</th><th scope="col" class="brief">swelling</th><th scope="col">opened to</th><th scope="col" class="brief">free</th></tr></thead><tbody>${rows.join('\n')}</tbody></table>`;
}
