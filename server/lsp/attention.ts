import type { Root } from '#server/workspace/root.ts';
import type { AttentionResult } from './protocol.ts';
import { lineOf } from './to-protocol.ts';

/** Lines with a finding or with work that is due, in file order; the next or previous one from a place, round the end. */
export function attention(root: Root, file: string, line: number, direction: 'next' | 'previous'): AttentionResult {
  const places = new Map<string, { file: string; line: number; character: number }>();
  const put = (at: string, row: number, character: number) => {
    const key = `${at}\0${row}`;
    const known = places.get(key);
    if (!known || character < known.character) places.set(key, { file: at, line: row, character });
  };
  for (const finding of root.answers.findings())
    if (finding.severity !== 'hint') put(finding.entry.file, lineOf(root, finding.entry), finding.span.start);
  for (const item of root.answers.work())
    if (item.state === 'overdue' || item.state === 'due') put(item.entry.file, lineOf(root, item.entry), 0);
  const sorted = [...places.values()].sort((a, b) => (a.file < b.file ? -1 : a.file > b.file ? 1 : a.line - b.line));
  if (sorted.length === 0) return null;
  const after = (place: { file: string; line: number }) =>
    place.file > file || (place.file === file && place.line > line);
  const before = (place: { file: string; line: number }) =>
    place.file < file || (place.file === file && place.line < line);
  const found = direction === 'next' ? (sorted.find(after) ?? sorted[0]) : (sorted.findLast(before) ?? sorted.at(-1));
  return found ? { uri: root.uriOf(found.file), line: found.line, character: found.character } : null;
}
