import { recordedBy } from '#server/engine/fitting.ts';
import type { WorkItem } from '#server/engine/model.ts';
import { shareWritten } from '#server/engine/work/step.ts';
import type { RecordingLine } from './protocol.ts';

/** Facts that are written with the work, where its verb alone would record something else. */
const facts: Partial<Record<WorkItem['what'], string>> = {
  cover: 'frost-free',
  shade: 'shade wind-break',
  suckers: 'suckers',
};

/** The line that records a piece of work; where that depends on what is found, one for each answer that ends it. */
export function recordingLines(item: WorkItem): readonly RecordingLine[] {
  const { what, grafts, to, renews } = item;
  if (what === 'judge') return judged(item);
  const fact = renews ? undefined : to ? shareWritten(to.low) : facts[what];
  return [{ seen: '', text: [recordedBy(item), grafts, fact].filter(Boolean).join('  ') }];
}

/** Laggards move or are lost, what stalled is green or lost, all others have taken or are lost. */
function judged({ grafts, practice }: WorkItem): readonly RecordingLine[] {
  const after = practice?.line.statement?.facts.find(({ key }) => key === 'after')?.value;
  const event = after?.kind === 'words' ? after.words : [];
  const well = event.includes('first-swell')
    ? { seen: 'Buds are swelling', text: `swell  ${grafts}` }
    : event.includes('first-open')
      ? { seen: 'Green: it goes on', text: `check  ${grafts}  green` }
      : { seen: 'Grown together', text: `take  ${grafts}` };
  return [well, { seen: 'Lost', text: `fail  ${grafts}` }];
}
