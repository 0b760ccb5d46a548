import type { InlayHint } from 'vscode-languageserver';
import { beginsDay } from '#grammar/carry.ts';
import type { Document, Range } from '#grammar/document.ts';
import type { Statement } from '#grammar/statement.ts';
import { isoDay } from '#grammar/values/date.ts';
import { intersect } from '#grammar/values/intervals.ts';
import { type Verb, verbRow } from '#grammar/vocabulary.ts';
import type { Entry, WorkItem } from '#server/engine/model.ts';
import { countText, dayText, lateText, rangeText, toText, workTitle } from '#server/engine/say.ts';
import type { Root } from '#server/workspace/root.ts';
import { nextOf } from './code-lens.ts';
import type { FileView } from './feature.ts';

/** A day that is carried far is shown again every so many lines. */
const far = 20;
/** So far up it is looked where the day stands: what is asked for the lines in sight must not grow with the file. */
const reach = 500;
/** Longest hint, in characters. */
const longest = 28;
/** Lines that tell how a graft fares: there its age is of interest. */
const telling: ReadonlySet<Verb> = new Set<Verb>(['check', 'swell', 'take', 'fail']);

/**
 * Few and quiet, for the lines in sight, one a line: the next step at the end of a set's last line, where it is near;
 * days since grafting where a line tells how grafts fare; the day that is carried down, where it is easily lost.
 */
export function inlayHint({ root, document }: FileView, { start, end }: Range): InlayHint[] {
  const [first, last] = [Math.max(0, start.line), Math.min(end.line, document.length - 1)];
  const days = carriedDays(document, first, last);
  const workOn = workByLine(root);
  const hints: InlayHint[] = [];
  for (let line = first; line <= last; line++) {
    const entry = document.entryAt(line);
    const { statement } = entry?.line ?? {};
    if (!entry || !statement || statement.idle || verbRow(statement.verb).kind !== 'work') continue;
    const words = nextStep(root, workOn(entry, statement)) ?? ageHint(root, entry, statement);
    if (words) {
      const position = { line, character: entry.line.text.trimEnd().length };
      hints.push({
        position,
        label: words.label,
        paddingLeft: true,
        ...(words.tooltip ? { tooltip: words.tooltip } : {}),
      });
    } else if (days.has(line) && entry.day !== undefined) {
      const position = { line, character: statement.verbSpan.start };
      hints.push({
        position,
        label: isoDay(entry.day),
        paddingRight: true,
        tooltip: 'The day that is carried down to here',
      });
    }
  }
  return hints;
}

/** Lines without a day of their own below one that has another, and every so many lines below the day line. */
function carriedDays(document: Document, first: number, last: number): ReadonlySet<number> {
  let from = first;
  const day = (line: number) => {
    const entry = document.entryAt(line);
    return entry !== undefined && beginsDay(entry.line);
  };
  while (from > 0 && first - from < reach && !day(from)) from--;
  const shown = new Set<number>();
  let since = 0;
  let lost = false;
  for (let line = from; line <= last; line++) {
    const { statement, date } = document.entryAt(line)?.line ?? {};
    if (day(line)) [since, lost] = [0, false];
    else if (statement && date) lost = true;
    else if (statement && verbRow(statement.verb).kind === 'work') {
      since++;
      if (lost || since % far === 0) shown.add(line);
      lost = false;
    }
  }
  return shown;
}

type WorkOn = (entry: Entry, statement: Statement) => WorkItem[];

/** Work by the last line that names its set; a batch is sorted once for all lines in sight. */
function workByLine(root: Root): WorkOn {
  const batches = new Map<string, Map<Entry, WorkItem[]>>();
  return (entry, statement) =>
    statement.sets.flatMap(({ name: { key } }) => {
      let lines = batches.get(key);
      if (!lines) {
        lines = new Map<Entry, WorkItem[]>();
        for (const item of root.log.names.isBatch(key) ? root.answers.of(key).work : [])
          lines.set(item.entry, [...(lines.get(item.entry) ?? []), item]);
        batches.set(key, lines);
      }
      return lines.get(entry) ?? [];
    });
}

interface Words {
  readonly label: string;
  readonly tooltip?: string;
}

/** `next step 27 Jun–1 Jul`, `next step 5 days late`; of what is far off nothing is said. */
function nextStep(root: Root, work: readonly WorkItem[]): Words | undefined {
  const item = nextOf(work.filter(({ state }) => state !== 'later'));
  if (!item) return undefined;
  const { day } = root;
  const when = item.state === 'overdue' ? lateText(day - item.by) : rangeText(item.from, item.by, day);
  const label = `next step ${when}`;
  return {
    label: label.length <= longest ? label : `next step by ${dayText(item.by, day)}`,
    tooltip: `${item.grafts}: ${[workTitle(item), toText(item.to)].filter(Boolean).join(' ')}, ${countText(item.count, 'graft')}: ${item.why}`,
  };
}

/** `day 187`, `day 180–187`. */
function ageHint(root: Root, entry: Entry, { verb, sets }: Statement): Words | undefined {
  if (!telling.has(verb) || entry.day === undefined) return undefined;
  let [youngest, oldest] = [Number.POSITIVE_INFINITY, 0];
  for (const { name, numbers } of sets) {
    if (!root.log.names.isBatch(name.key)) continue;
    for (const cohort of root.answers.histories.of(name.key).cohorts) {
      if (numbers && intersect(cohort.numbers, numbers).length === 0) continue;
      if (cohort.fail && cohort.fail.day < entry.day) continue;
      const age = entry.day - cohort.madeDay;
      if (age <= 0) continue;
      youngest = Math.min(youngest, age);
      oldest = Math.max(oldest, age);
    }
  }
  if (oldest === 0) return undefined;
  return { label: youngest === oldest ? `day ${oldest}` : `day ${youngest}–${oldest}` };
}
