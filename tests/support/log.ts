import { parseIso } from '#grammar/values/date.ts';
import { intervalsText } from '#grammar/values/intervals.ts';
import { type LogView, readLog } from '#server/engine/engine.ts';
import { graftsText } from '#server/engine/grafts-text.ts';
import type { BatchHistory, Cohort, Finding } from '#server/engine/model.ts';
import { stageCounts, stageOf } from '#server/engine/stage.ts';
import { expectMarks, type Marked } from './marks.ts';

/** A day long after every example, unless one says otherwise. */
export const later = '2029-12-31';

export function dayOf(iso: string): number {
  const day = parseIso(iso);
  if (day === undefined) throw new Error(`${iso} is no day`);
  return day;
}

/** Reads a log of one file, or of several by name, as it stands on a day. */
export function logOf(text: string | Readonly<Record<string, string>>, on: string = later): LogView {
  const files = typeof text === 'string' ? { 'log.graft': text.replace(/^\n/, '') } : text;
  return readLog(
    Object.entries(files).map(([file, content]) => ({ file, text: content })),
    { day: dayOf(on) },
  );
}

export function markedOf(view: LogView, finding: Finding): Marked {
  const { code, severity, message, span, entry } = finding;
  return {
    line: view.log.document(entry.file)?.lineOf(entry) ?? -1,
    start: span.start,
    end: span.end,
    severity,
    code,
    message,
  };
}

/** Compares what the log itself has wrong (lines, days, names, histories) with the marks under its lines. */
export function expectLogFindings(text: string, on: string = later): void {
  expectMarks(text, (log) => {
    const view = logOf(log, on);
    return view.findings().map((finding) => markedOf(view, finding));
  });
}

/** A mark alone, where the whole log would be too long to repeat: `3 error after-end`. */
export function findingsText(view: LogView): string[] {
  return view.findings().map((finding) => `${markedOf(view, finding).line + 1} ${finding.severity} ${finding.code}`);
}

export const setText = (cohort: Cohort): string => graftsText(cohort.batch, cohort.numbers);

/** `K26.1..8 opening`: a batch's cohorts by number and stage. */
export function cohortsText(history: BatchHistory): string[] {
  return history.cohorts.map((cohort) => `${setText(cohort)} ${stageOf(cohort)}`);
}

/** `taken 18, failed 2`. */
export function stagesText(history: BatchHistory): string {
  return Object.entries(stageCounts(history))
    .map(([stage, count]) => `${stage} ${count}`)
    .join(', ');
}

/** `4 of 1..40 fail rotted`. */
export function talliesText(history: BatchHistory): string[] {
  return history.tallies.map(
    ({ count, over, verb, cause }) => `${count} of ${intervalsText(over)} ${verb}${cause ? ` ${cause}` : ''}`,
  );
}

/** Applies a finding's mend to its own file and gives the lines that changed or came. */
export function mended(view: LogView, finding: Finding, title: string): string[] {
  const mend = finding.mends?.find((one) => one.title === title);
  if (!mend) throw new Error(`no mend "${title}" among ${finding.mends?.map((one) => one.title).join(', ') || 'none'}`);
  const document = view.log.document(finding.entry.file);
  if (!document) throw new Error('the finding’s file is gone');
  const lines = document.entries.map((entry) => entry.line.text);
  const before = [...lines];
  for (const edit of mend.edits) {
    if ('where' in edit && edit.where !== 'in') {
      const at = document.lineOf(edit.entry);
      lines.splice(edit.where === 'below' ? at + 1 : at, 0, edit.text);
      continue;
    }
    const at = document.lineOf('entry' in edit ? edit.entry : finding.entry);
    const line = lines[at] ?? '';
    const span = edit.span ?? { start: 0, end: line.length };
    lines[at] = line.slice(0, span.start) + edit.text + line.slice(span.end);
  }
  return lines.filter((line) => !before.includes(line));
}
