import type { Span } from '#grammar/finding.ts';
import type { Day } from '#grammar/statement.ts';
import { recordedBy } from '../fitting.ts';
import { graftsWords } from '../grafts-text.ts';
import type { BatchHistory, Cohort, Entry, Finding, WorkItem } from '../model.ts';
import { dayText, toText } from '../say.ts';
import type { WorkEnv } from './env.ts';
import { joined, type Listed } from './join.ts';

/**
 * Work that can't wait and is past its day, on the last line that names its set. Silent for work that waits, for what
 * was accepted, and where another finding says it already: a cover or shade that is missing, mould that was left.
 *
 * @param work of `nextWork`
 */
export function overdueFindings(work: readonly Listed[], history: BatchHistory, env: WorkEnv): readonly Finding[] {
  return work.flatMap((listed) => {
    if (listed.waits || listed.state !== 'overdue' || listed.pieces.some(({ task }) => task.said)) return [];
    const item = joined(
      listed.pieces.filter(({ cohort }) => !isAccepted(cohort, env)),
      history,
      env,
    );
    return item ? [findingOf(item, env.day)] : [];
  });
}

function isAccepted(cohort: Cohort, { accepts, day }: WorkEnv): boolean {
  const { batch, numbers, method, group, scion, named, made, stays } = cohort;
  const entry = named.at(-1)?.entry ?? made;
  const { place, tree } = stays.at(-1) ?? {};
  return accepts.covers('overdue', {
    entry,
    day: entry.day ?? day,
    batch: batch.key,
    numbers,
    ...(place === undefined ? {} : { place }),
    ...(tree === undefined ? {} : { tree }),
    ...(method ? { method } : {}),
    ...(group ? { group } : {}),
    ...(scion ? { scion } : {}),
  });
}

function findingOf(item: WorkItem, day: Day): Finding {
  return {
    code: 'overdue',
    severity: 'information',
    entry: item.entry,
    span: spanOf(item.entry, item.batch.key),
    message: messageOf(item, day),
    grafts: item.grafts,
    ...(item.practice ? { related: [practiceLine(item.practice)] } : {}),
  };
}

function messageOf(item: WorkItem, day: Day): string {
  const set = graftsWords(item.batch, item.numbers);
  const late = day - item.by;
  const when = `by ${dayText(item.by, day)}, ${late === 1 ? '1 day' : `${late} days`} ago`;
  if (item.what === 'open') return `${set}: a step was due ${when}; one step only, ${toText(item.to)}.`;
  const why = item.why.replace(': ', ', ');
  return `${set}: \`${item.renews ? recordedBy(item) : item.what}\` was due ${when}; ${why}${why.endsWith('?') ? '' : '.'}`;
}

/** The set where the line names it; a line on the tree it stands on names the tree. */
function spanOf(entry: Entry, batch: string): Span {
  const statement = entry.line.statement;
  const set = statement?.sets.find(({ name }) => name.key === batch) ?? statement?.sets[0];
  return set?.span ?? statement?.verbSpan ?? { start: 0, end: entry.line.text.length };
}

function practiceLine(entry: Entry) {
  const { line } = entry;
  return {
    entry,
    span: line.statement?.verbSpan ?? { start: 0, end: line.text.length },
    message: 'The practice line behind it.',
  };
}
