import type { Day } from '#grammar/statement.ts';
import { verbRow } from '#grammar/vocabulary.ts';
import { Histories } from './histories.ts';
import { Log, type LogChange } from './log.ts';
import { merge } from './merge.ts';
import type { BatchHistory, Entry, Finding } from './model.ts';

/** A log on a day. Checks, work and figures take it together with the practice that holds for it. */
export interface LogView {
  readonly log: Log;
  readonly day: Day;
  /** Keys of all batches, by no particular order. */
  batches(): Iterable<string>;
  /** Read when first asked for, then kept. */
  history(batch: string): BatchHistory;
  /** What the log itself has wrong: lines, days, names, histories. One a line and code, sorted by file and line. */
  findings(): Finding[];
  /** Takes in what changed in the log, and gives the keys of the batches that have to be looked at again. */
  apply(change: LogChange): ReadonlySet<string>;
}

/** Reads whole files as one log; `file` is the path relative to the log's root, with `/`. */
export function readLog(
  files: readonly { readonly file: string; readonly text: string }[],
  { day }: { readonly day: Day },
): LogView {
  const log = new Log();
  for (const { file, text } of files) log.addFile(file, text);
  return viewOf(log, new Histories(log, day));
}

function viewOf(log: Log, histories: Histories): LogView {
  const { day } = histories;
  return {
    log,
    day,
    batches: () => log.names.batches(),
    history: (batch) => histories.of(batch),
    apply: (change) => histories.apply(change),
    findings: () => merge(logFindings(log, histories)),
  };
}

function* logFindings(log: Log, histories: Histories): Generator<Finding> {
  yield* log.lineFindings();
  for (const entry of log.after(histories.day)) yield stillToCome(entry);
  for (const batch of log.names.batches()) yield* histories.of(batch).findings;
}

/** Work dated after the day computed for takes no part. */
export function stillToCome(entry: Entry): Finding {
  const { line } = entry;
  const statement = line.statement;
  const span = line.date?.span ?? statement?.verbSpan ?? { start: 0, end: line.text.length };
  const lot = statement?.verb === 'collect' && verbRow(statement.verb).kind === 'work';
  return {
    code: 'future-date',
    severity: 'warning',
    entry,
    span,
    message: lot
      ? 'This day is still to come: till then the line takes no part, but its lot has its name.'
      : 'This day is still to come: till then the line takes no part.',
  };
}
