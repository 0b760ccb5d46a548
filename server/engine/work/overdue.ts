import type { Span } from '#grammar/finding.ts';
import { graftsWords } from '../grafts-text.ts';
import type { BatchHistory, Entry, Finding, WorkItem } from '../model.ts';
import { dayText, toText, workTitle } from '../say.ts';
import type { WorkEnv } from './env.ts';
import { listed } from './next.ts';

/**
 * Work that can't wait and is past its day, on the last line that names its set. Silent for work that waits, and where
 * another finding says it already: a cover or shade that is missing, mould that was left.
 */
export function overdueFindings(history: BatchHistory, env: WorkEnv): readonly Finding[] {
  return listed(history, env)
    .filter((item) => !item.waits && !item.said && item.state === 'overdue')
    .map((item) => ({
      code: 'overdue' as const,
      severity: 'information' as const,
      entry: item.entry,
      span: spanOf(item.entry, item.batch.key),
      message: messageOf(item, env.day),
      grafts: item.grafts,
      ...(item.practice ? { related: [practiceLine(item.practice)] } : {}),
    }));
}

function messageOf(item: WorkItem, day: number): string {
  const set = graftsWords(item.batch, item.numbers);
  const late = day - item.by;
  const when = `by ${dayText(item.by, day)}, ${late === 1 ? '1 day' : `${late} days`} ago`;
  if (item.what === 'open') return `${set}: a step was due ${when}; one step only, ${toText(item.to)}.`;
  return `${set}: due ${when}, ${workTitle(item.what)}; ${item.why}.`;
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
