import stringWidth from 'string-width';
import type { Day } from '#grammar/statement.ts';
import type { Group } from '#server/engine/figures/groups.ts';
import type { GroupKey } from '#server/engine/figures/levels.ts';
import type { Stats, StatsAsked } from '#server/engine/figures/stats.ts';
import { aliveOn, type Survival } from '#server/engine/figures/survival.ts';
import { tryNext } from '#server/engine/figures/try-next.ts';
import {
  comparisonSentence,
  keyNouns,
  levelText,
  rankingSentence,
  slopeSentence,
  survivalSentence,
} from '#server/engine/figures/words.ts';
import { groupNotes } from '#server/engine/figures/words-groups.ts';
import { numberText, percent, rateText } from '#server/engine/say.ts';
import { nextPart } from './next-part.ts';
import { columns, pageDay, pageWidth, paragraph, type TextPage, type TextPart } from './text-page.ts';

/** What was asked to be compared and what to try next, then take rates and losses over time, as a page of text. */
export function statsPage(stats: Stats, { by, compare }: StatsAsked, day: Day): TextPage {
  const named = (keys: readonly GroupKey[]) => keys.map((key) => keyNouns[key]).join(', ');
  const head = `Takes by ${named(by)}`;
  if (stats.groups.length === 0) return [{ head: asOf(head, day), lines: ['No grafts on record yet.'] }];
  const parts = [
    ...comparisonParts(stats, compare),
    ...slopePart(stats),
    ...nextPart(tryNext(stats.comparisons)),
    { head, lines: [...groupTable(stats.groups, by), ...legend(stats.groups)] },
    ...rankingPart(stats, by),
    ...lossesPart(stats.survival),
  ];
  return parts.map((part, i) => (i === 0 ? { ...part, head: asOf(part.head, day) } : part));
}

const asOf = (head: string, day: Day): string => `${head}, as of ${pageDay(day)}`;

/** A row for each group with what the row doesn't hold beneath; long names stand on lines of their own. */
function groupTable(groups: readonly Group[], by: readonly GroupKey[]): string[] {
  const pooled = groups.some(({ basis }) => basis === 'batches');
  const names = groups.map(({ key }) => by.map((one) => levelText(one, key[one] ?? null)).join(' · '));
  const head = [...(pooled ? ['batches'] : []), 'made', 'taken', 'lost', 'to judge', 'how it did'];
  const rows = groups.map((group) => [
    ...(pooled ? [String(group.batches)] : []),
    ...[group.grafted, group.taken, group.failed, group.open].map(numberText),
    rateText(group),
  ]);
  const table = (title: string, lead: (i: number) => string) =>
    columns(
      [[title, ...head], ...rows.map((row, i) => [lead(i), ...row])],
      new Set(head.slice(0, -1).map((_, i) => i + 1)),
    );
  const beside = table(by.map((key) => keyNouns[key]).join(' · '), (i) => names[i] ?? '');
  const fits = beside.every((line) => stringWidth(line) <= pageWidth);
  const [title = '', ...laid] = fits ? beside : table('', () => '');
  return [
    title,
    ...groups.flatMap((group, i) => [
      ...(fits ? [] : paragraph(names[i] ?? '')),
      laid[i] ?? '',
      ...groupNotes(group).flatMap((note) => paragraph(note, fits ? 2 : 4)),
    ]),
  ];
}

/** What the brackets say, for one who meets them first. */
function legend(groups: readonly Group[]): string[] {
  const shown = groups.filter((group) => rateText(group).includes('('));
  if (shown.length === 0) return [];
  const luck = 'In brackets: how low or high the rate may really be, luck allowed for (95 % interval).';
  const alone = shown.some(({ basis }) => basis === 'batch')
    ? ' Of one batch it tells how that batch did, not how the next will.'
    : '';
  return ['', ...paragraph(`${luck.replace(' %', '\u00A0%')}${alone}`)];
}

function rankingPart({ ranking }: Stats, by: readonly GroupKey[]): TextPart[] {
  if (!ranking) return [];
  const young = by[0] === 'batch' ? ' Batches less than half judged are not in it.' : '';
  return [{ head: 'Better and worse than usual', lines: paragraph(`${rankingSentence(ranking)}${young}`) }];
}

function comparisonParts({ comparisons }: Stats, compare: readonly GroupKey[]): TextPart[] {
  const parts = compare.map((key): TextPart => {
    const own = comparisons.filter((comparison) => comparison.key === key);
    const lines = own.flatMap((comparison, i) => [
      ...(i > 0 ? [''] : []),
      ...paragraph(comparisonSentence(comparison, comparisons.length)),
    ]);
    const nothing = 'Only one way of it is judged, or none: nothing to compare yet.';
    return { head: `Compared by ${keyNouns[key]}`, lines: own.length > 0 ? lines : paragraph(nothing) };
  });
  const reading =
    'Ten points more: of 100 grafts ten more took. In brackets: how small or large the difference may well be. A sitting is what was grafted of one batch on one day: the same wood, weather and care, so the fairest comparison.';
  const limits = comparisons.some(({ low }) => low !== null);
  return [...parts, ...(limits ? [{ head: 'How to read it', lines: paragraph(reading) }] : [])];
}

function slopePart({ slopes }: Stats): TextPart[] {
  return slopes.length === 0
    ? []
    : [
        {
          head: 'More or less of it in the same batch',
          lines: slopes.flatMap((slope) => paragraph(slopeSentence(slope))),
        },
      ];
}

/** Shares still alive on days the log has grafts for, beneath the sentence. */
function lossesPart(survival: Survival | null): TextPart[] {
  const sentence = survival ? survivalSentence(survival) : '';
  if (!survival || !sentence) return [];
  const days = survival.watched.filter(({ day }) => day > 0);
  const rows = [
    ['days since grafting', ...days.map(({ day }) => String(day))],
    ['still alive', ...days.map(({ day }) => percent(aliveOn(survival, day)))],
    ['grafts followed so far', ...days.map(({ count }) => numberText(count))],
  ];
  return [
    {
      head: 'When grafts were lost, all of them together',
      lines: [...paragraph(sentence), ...columns(rows, new Set(days.map((_, i) => i + 1)))],
    },
  ];
}
