import { isoDay } from '#grammar/values/date.ts';
import type { Root } from '#server/workspace/root.ts';
import type { WriteLineResult } from './protocol.ts';

/** Where a line of the day's work goes: below the last line under the day's day line, or under a new one at the end. */
export function writeLine(root: Root, file: string, text: string): WriteLineResult {
  const document = root.log.document(file);
  if (!document) return null;
  const { day } = root;
  const { entries } = document;
  let last = entries.length - 1;
  while (last >= 0 && entries[last]?.line.text.trim() === '') last--;
  const clean = text.replace(/[\r\n]+/g, ' ').trim();
  const dayLine = entries.findLastIndex((entry) => !entry.line.statement && entry.line.date?.day === day);
  if (dayLine >= 0) {
    let end = dayLine;
    while (end + 1 < entries.length && entries[end + 1]?.line.statement && !entries[end + 1]?.line.date) end++;
    if (end + 1 < entries.length) return { line: end + 1, text: `${clean}\n` };
    return { line: end + 1, text: `\n${clean}` };
  }
  const blank = last + 1 < entries.length;
  return blank
    ? { line: last + 1, text: `\n${isoDay(day)}\n${clean}\n` }
    : { line: entries.length, text: `\n\n${isoDay(day)}\n${clean}` };
}
