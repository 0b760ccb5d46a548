import type { CodeLens } from 'vscode-languageserver';
import type { WorkItem } from '#server/engine/model.ts';
import { figuresText, lateText, rangeText, toText, workTitle } from '#server/engine/say.ts';
import type { FileView, Slices } from './feature.ts';
import { commands } from './protocol.ts';
import { toRange } from './to-protocol.ts';

/**
 * One lens over each batch line and no other line, so that text doesn't jump: figures, and what comes next by when.
 * Yields after each batch: before a long log was looked at once, its first lenses ask for all of it.
 */
export function* codeLens({ root, document, uri }: FileView): Slices<CodeLens[]> {
  const lenses: CodeLens[] = [];
  for (const entry of document.entries) {
    const set = entry.line.statement?.verb === 'batch' ? entry.line.statement.sets[0] : undefined;
    if (!set || root.log.names.declared(set.name.key)?.entry !== entry) continue;
    const { figures, work } = root.answers.of(set.name.key);
    const range = toRange(root, entry, set.name.span);
    const history = { command: commands.showHistory, arguments: [uri, range.start.line, range.start.character] };
    lenses.push({ range, command: { title: figuresText(figures), ...history } });
    const next = nextOf(work);
    if (next) lenses.push({ range, command: { title: nextText(next, root.day), command: commands.showWork } });
    yield;
  }
  return lenses;
}

/** What is most pressing: overdue that can't wait, then what is due, then by date. */
export function nextOf(work: readonly WorkItem[]): WorkItem | undefined {
  const urgency = ({ state, waits }: WorkItem) =>
    state === 'overdue' && !waits ? 0 : state === 'later' ? 3 : state === 'soon' ? 2 : 1;
  return [...work].sort((a, b) => urgency(a) - urgency(b) || a.by - b.by)[0];
}

/** `next: open a step, 27 Jun–1 Jul`, at most 40 characters. */
function nextText(item: WorkItem, day: number): string {
  const when = item.state === 'overdue' ? lateText(day - item.by) : rangeText(item.from, item.by, day);
  const title = workTitle(item);
  const long = `next: ${title}${item.to ? ` ${toText(item.to)}` : ''}, ${when}`;
  return long.length <= 40 ? long : `next: ${title}, ${when}`;
}
