import { beginsDay } from '#grammar/carry.ts';
import type { Document } from '#grammar/document.ts';
import { formatLines } from '#grammar/format.ts';
import { readLine } from '#grammar/line.ts';
import type { Day } from '#grammar/statement.ts';
import { fromDay, isoDay } from '#grammar/values/date.ts';
import type { Root } from '#server/workspace/root.ts';
import type { WriteLineResult } from './protocol.ts';

/**
 * Where a line of the day's work goes: below the last line under the day's day line, or under a new one at the file's
 * end. And what is wrong with the line, read alone.
 */
export function writeLine(root: Root, asked: string, text: string): WriteLineResult {
  const file = fileFor(root, asked);
  const document = root.log.document(file);
  if (!document) return null;
  const { day } = root;
  const clean = text.replace(/[\r\n]+/g, ' ').trim();
  const line = readLine(clean);
  const laidOut = formatLines([{ line }])[0]?.text ?? clean;
  const slip = line.problems.find(({ severity }) => severity === 'error');
  const problem = slip?.message ?? (line.statement ? undefined : 'A line begins with its verb: check, open, take …');
  const version = root.open.get(file);
  return {
    uri: root.uriOf(file),
    ...placeIn(document, day, laidOut),
    ...(version === undefined ? {} : { version }),
    ...(problem ? { problem } : {}),
  };
}

/** `written` is the line's own number once `text` stands in the file. */
function placeIn(document: Document, day: Day, clean: string): { line: number; text: string; written: number } {
  const { entries } = document;
  let last = entries.length - 1;
  while (last >= 0 && entries[last]?.line.text.trim() === '') last--;
  const dayLine = entries.findLastIndex(({ line }) => line.date?.day === day && beginsDay(line));
  if (dayLine >= 0) {
    let end = dayLine;
    while (end + 1 < entries.length && entries[end + 1]?.line.statement && !entries[end + 1]?.line.date) end++;
    const line = end + 1;
    return { line, text: line < entries.length ? `${clean}\n` : `\n${clean}`, written: line };
  }
  // a day begins as the last one of the file does: with or without a blank line above it
  const lastDay = entries.findLastIndex(({ line }) => line.date && beginsDay(line));
  const close = last < 0 || (lastDay > 0 && entries[lastDay - 1]?.line.text.trim() !== '');
  const added = `${close ? '' : '\n'}${isoDay(day)}\n${clean}`;
  const at = Math.min(last + 1, entries.length);
  const written = at + (close ? 1 : 2);
  return at < entries.length ? { line: at, text: `${added}\n`, written } : { line: at, text: `\n${added}`, written };
}

/**
 * The file asked for, where something of this year stands in it. A file of other years is an old season's: then the line
 * goes where the day's work is written, the file with the latest day up to this one.
 */
function fileFor(root: Root, asked: string): string {
  const { day, log } = root;
  const { year } = fromDay(day);
  const latest = (file: string) =>
    (log.document(file)?.entries ?? []).reduce(
      (found, entry) => (entry.day !== undefined && entry.day <= day && entry.day > found ? entry.day : found),
      Number.NEGATIVE_INFINITY,
    );
  const own = latest(asked);
  if (own > Number.NEGATIVE_INFINITY && fromDay(own).year === year) return asked;
  let best = { file: asked, day: own };
  for (const file of log.fileNames) {
    const found = latest(file);
    if (found > best.day) best = { file, day: found };
  }
  return best.file;
}
