import type { Intervals } from '#grammar/statement.ts';
import { intersect, normalize, size, subtract } from '#grammar/values/intervals.ts';
import { coverOn } from '#server/engine/cover.ts';
import { type Beside, besideOf } from '#server/engine/figures/beside.ts';
import { capital } from '#server/engine/figures/wording.ts';
import { groupNotes, groupSentence } from '#server/engine/figures/words-groups.ts';
import { graftsText } from '#server/engine/grafts-text.ts';
import type { BatchHistory, Cohort, Declared, Entry } from '#server/engine/model.ts';
import {
  countText,
  dayText,
  lateText,
  numberText,
  percent,
  rangeText,
  rateText,
  toText,
  workTitle,
} from '#server/engine/say.ts';
import { stageOf } from '#server/engine/stage.ts';
import { storyOf } from '#server/engine/story.ts';
import { lineWeather, placeWeatherLines } from '#server/engine/weather-told.ts';
import { livingOf } from '#server/engine/work/join.ts';
import { nextOf } from './code-lens.ts';
import type { FileView } from './feature.ts';
import { escaped } from './markdown.ts';

/** What a set went through, where it stands, how the batch does, what comes next: at most eight lines. */
export function setHover({ root }: FileView, batch: string, numbers: Intervals | undefined): string[] {
  const { history, work } = root.answers.of(batch);
  const cohorts = history.cohorts.filter((cohort) => !numbers || intersect(cohort.numbers, numbers).length > 0);
  const [first] = cohorts;
  if (!first) return [`**${escaped(history.batch.name)}** · no grafts yet`];
  const day = root.day;
  const shown = numbers ? graftsText(history.batch, numbers) : history.batch.name;
  const pair = [first.scion, first.stock].flatMap((taxon) => (taxon ? [escaped(taxon.text)] : [])).join(' / ');
  const lines = [[`**${escaped(shown)}**`, pair].filter(Boolean).join(' · '), whereLine(root, first, day)];
  const beside = numbers ? undefined : besideOf(batch, root.answers.pieces(), root.answers.env);
  if (!beside || beside.own.taken + beside.own.failed === 0)
    lines.push(stageLine(cohorts, numbers) + uncertain(history, cohorts, numbers));
  if (beside) lines.push(...batchLines(beside));
  const mine = work.filter((item) => !numbers || intersect(item.numbers, numbers).length > 0);
  const next = nextOf(mine);
  if (next) {
    const when = next.state === 'overdue' ? lateText(day - next.by) : rangeText(next.from, next.by, day);
    // work that reaches beyond the set is said of all it is due for
    const beyond = numbers !== undefined && subtract(next.numbers, numbers).length > 0;
    const whose = `${beyond ? `${escaped(next.grafts)}: ` : ''}${countText(next.count, 'graft')}`;
    lines.push(
      `**Next** ${workTitle(next)}${next.to ? ` ${toText(next.to)}` : ''}, ${when}, ${whose}. ${escaped(capital(next.why))}`,
    );
  }
  lines.push(storyLine(cohorts, day));
  return lines;
}

/** The batch's own figures with what they leave open, then the other batches of its pair; the words of `stats`. */
function batchLines({ own, others, together }: Beside): string[] {
  const judged = own.taken + own.failed > 0;
  const counts = [
    [own.taken, 'taken'],
    [own.failed, 'lost'],
    [own.open, 'to judge'],
  ] as const;
  const parts = counts.flatMap(([count, word]) => (count > 0 ? [`${numberText(count)} ${word}`] : []));
  const figures = judged ? [...parts, rateText(own)].filter(Boolean).join(' · ') : '';
  const [lost, ...rest] = groupNotes(own).map((note) => escaped(capital(note)));
  const notes = Object.keys(own.causes).length > 0 ? [lost, inOneLine(rest)] : [inOneLine([lost ?? '', ...rest])];
  const names = others.slice(-besides).map((group) => `${escaped(group.key.batch ?? '')} ${rateText(group)}`);
  const earlier = others.length > besides ? [`${others.length - besides} more`] : [];
  const beside = together ? `Same pair: ${[...names, ...earlier].join(', ')}. ${escaped(groupSentence(together))}` : '';
  return [figures, ...notes, beside].filter((line): line is string => Boolean(line));
}

/** Notes that stand below each other on a page, one behind the other. */
const inOneLine = (notes: readonly string[]): string =>
  notes.map((note, i) => (i < notes.length - 1 && /[^.?!]$/.test(note) ? `${note}.` : note)).join(' ');

/** Others of the pair that are named, the last of them. */
const besides = 4;

function whereLine(root: FileView['root'], cohort: Cohort, day: number): string {
  const shelter = coverOn(cohort, day, root.log);
  const place = shelter.stay?.place
    ? (root.log.names.declared(shelter.stay.place)?.name ?? shelter.stay.place)
    : undefined;
  const tree = shelter.stay?.tree ? (root.log.names.declared(shelter.stay.tree)?.name ?? shelter.stay.tree) : undefined;
  const cover = [...shelter.flags].join(', ');
  const where = [tree ? `on ${escaped(tree)}` : '', place ? `in ${escaped(place)}${cover ? ` (${cover})` : ''}` : '']
    .filter(Boolean)
    .join(' ');
  return [cohort.method ?? 'no method noted', `made ${dayText(cohort.madeDay, day)}`, where || 'no place noted'].join(
    ', ',
  );
}

function stageLine(cohorts: readonly Cohort[], numbers: readonly number[] | undefined): string {
  const stages = new Map<string, number>();
  for (const cohort of cohorts) {
    const stage = stageOf(cohort);
    const word = stage === 'failed' ? 'lost' : stage === 'opening' ? `open to ${percent(cohort.share)}` : stage;
    const count = size(numbers ? intersect(cohort.numbers, numbers) : cohort.numbers);
    stages.set(word, (stages.get(word) ?? 0) + count);
  }
  return [...stages].map(([word, count]) => `${countText(count, 'graft')} ${word}`).join(', ');
}

/** Of a set by number, how many more were lost or sold by count: `fail K26 x2` doesn't say which. */
function uncertain(history: BatchHistory, cohorts: readonly Cohort[], numbers: Intervals | undefined): string {
  if (!numbers || history.tallies.length === 0) return '';
  const here = cohorts.filter(({ fail, sold }) => !fail && sold === undefined).map((cohort) => cohort.numbers);
  const named = intersect(normalize(here.flat()), numbers);
  const gone = size(named) - livingOf(named, history);
  return gone > 0 ? `; ${gone} of them lost or sold, by count` : '';
}

/** The last things it went through, newest last; a set of several histories tells that of its largest part. */
function storyLine(cohorts: readonly Cohort[], day: number): string {
  const largest = [...cohorts].sort((a, b) => size(b.numbers) - size(a.numbers))[0];
  if (!largest) return '';
  const story = storyOf(largest);
  const last = story.slice(-5).map((line) => `${dayText(line.day, day)} ${escaped(line.words)}`);
  const whose = cohorts.length > 1 ? `${escaped(graftsText(largest.batch, largest.numbers))}: ` : '';
  return `${whose}${story.length > 5 ? '… ' : ''}${last.join(' · ')}`;
}

export function placeHover({ root }: FileView, declared: Declared): string[] {
  const text = declared.entry.line.text.slice(0, declared.entry.line.comment?.start).trim().replace(/\s+/g, ' ');
  const { weather, env } = root.answers;
  const remark = declared.entry.line.comment
    ? [escaped(declared.entry.line.text.slice(declared.entry.line.comment.start + 1).trim())]
    : [];
  return [
    `**${escaped(declared.name)}** · ${declared.kind}`,
    `\`${text.replaceAll('`', '')}\``,
    ...remark,
    `${declared.entry.file}, line ${(root.log.document(declared.entry.file)?.lineOf(declared.entry) ?? 0) + 1}`,
    ...(weather && declared.kind === 'place' ? placeWeatherLines(declared.key, weather, env).map(escaped) : []),
  ];
}

/** What was read of a station's file, and what follows for the places. */
export function weatherHover({ root }: FileView, entry: Entry): string[] {
  const { weather, env } = root.answers;
  const lines = weather ? lineWeather(entry, weather, env) : [];
  return lines.length > 0 ? [`**${escaped(entry.line.statement?.remark?.text ?? '')}**`, ...lines.map(escaped)] : [];
}
