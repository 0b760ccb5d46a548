import { isoDay } from '#grammar/values/date.ts';
import type { WorkItem } from '#server/engine/model.ts';
import { countText, dayText, toText, weekdayText, whenText, workTitle } from '#server/engine/say.ts';
import { weekHours } from '#server/report/week-hours.ts';
import type { Root } from '#server/workspace/root.ts';
import type { WorkList, WorkRow } from './protocol.ts';
import { recordingLines } from './recording-lines.ts';
import { lineOf } from './to-protocol.ts';

/** The work list of one log, earliest `by` first, with the words it is shown in. */
export function workList(root: Root): WorkList {
  const { day } = root;
  if (root.loading) return untold(root);
  const rows = root.answers.work().map((item) => rowOf(root, item, day));
  const documents = root.log.fileNames.flatMap((file) => root.log.document(file) ?? []);
  const waits = rows.some(({ state }) => state === 'overdue' || state === 'due');
  const next = waits ? undefined : [...root.answers.work()].sort((a, b) => a.from - b.from)[0];
  let read = 0;
  for (const { entries } of documents) for (const entry of entries) if (entry.line.statement) read++;
  return {
    root: root.uri,
    name: root.name,
    on: isoDay(day),
    onShown: weekdayText(day),
    files: documents.length,
    unread: [...root.unread],
    lines: documents.reduce((sum, document) => sum + document.length, 0),
    read,
    rows,
    ...(root.hours === undefined ? {} : { hours: weekHours(root.answers.work(), day, root.hours) }),
    next: next ? `Next: ${next.batch.name}, ${workTitle(next)}, from ${dayText(next.from, day)}.` : null,
  };
}

/** Of a log whose reading was stopped: half of it would say what isn't true. */
function untold(root: Root): WorkList {
  const [on, onShown] = [isoDay(root.day), weekdayText(root.day)];
  return {
    root: root.uri,
    name: root.name,
    on,
    onShown,
    files: 0,
    unread: [],
    lines: 0,
    read: 0,
    rows: [],
    next: null,
    stopped: true,
  };
}

function rowOf(root: Root, item: WorkItem, day: number): WorkRow {
  const { what, batch, grafts, count, place, hand, state, waits, why } = item;
  const when = whenText(item, day);
  const job = workTitle(item);
  const title = item.to ? `${job} ${toText(item.to)}` : job;
  return {
    what,
    job,
    title,
    batch: batch.name,
    grafts,
    count,
    place,
    hand,
    state,
    waits,
    when,
    why,
    spoken: `${batch.name}, ${job}, ${countText(count, 'graft')}${place ? ` in ${place}` : ''}, ${when}`,
    at: { uri: root.uriOf(item.entry.file), line: lineOf(root, item.entry) },
    from: isoDay(item.from),
    by: isoDay(item.by),
    write: recordingLines(item),
  };
}
