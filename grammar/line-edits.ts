import type { LineEdit } from './finding.ts';

interface Piece {
  readonly text: string;
  readonly start: number;
}

/**
 * What turns a line into its new text, as small as it can be said: words and marks that stay are not touched, and of
 * blanks only those that are too many or too few. A caret in a word stays in that word.
 */
export function lineEdits(before: string, after: string): LineEdit[] {
  if (before === after) return [];
  const [old, now] = [wordsOf(before), wordsOf(after)];
  const edits: LineEdit[] = [];
  let [from, to] = [0, 0];
  const upTo = (end: number, newEnd: number) => {
    const edit = smallestEdit(before.slice(from, end), after.slice(to, newEnd), from);
    if (edit) edits.push(edit);
  };
  for (const [a, b] of kept(old, now)) {
    upTo(a.start, b.start);
    [from, to] = [a.start + a.text.length, b.start + b.text.length];
  }
  upTo(before.length, after.length);
  return edits;
}

const wordsOf = (text: string): Piece[] =>
  [...text.matchAll(/[\p{L}\p{M}\p{N}]+|\S/gu)].map((match) => ({ text: match[0], start: match.index }));

/** Words and marks that stand in both, in their order: as many as there are (longest common subsequence). */
function kept(old: readonly Piece[], now: readonly Piece[]): [Piece, Piece][] {
  const pair = (i: number, j: number): [Piece, Piece] => [old[i] as Piece, now[j] as Piece];
  const same = (i: number, j: number) => old[i]?.text === now[j]?.text;
  const head: [Piece, Piece][] = [];
  const tail: [Piece, Piece][] = [];
  let [low, oldEnd, newEnd] = [0, old.length, now.length];
  while (low < Math.min(oldEnd, newEnd) && same(low, low)) head.push(pair(low, low++));
  while (oldEnd > low && newEnd > low && same(oldEnd - 1, newEnd - 1)) tail.push(pair(--oldEnd, --newEnd));
  const longest = Array.from({ length: oldEnd - low + 1 }, () => new Uint16Array(newEnd - low + 1));
  const at = (i: number, j: number) => longest[i - low]?.[j - low] ?? 0;
  for (let i = oldEnd - 1; i >= low; i--)
    for (let j = newEnd - 1; j >= low; j--)
      (longest[i - low] as Uint16Array)[j - low] = same(i, j)
        ? at(i + 1, j + 1) + 1
        : Math.max(at(i + 1, j), at(i, j + 1));
  for (let [i, j] = [low, low]; i < oldEnd && j < newEnd; ) {
    if (same(i, j)) head.push(pair(i++, j++));
    else if (at(i + 1, j) >= at(i, j + 1)) i++;
    else j++;
  }
  return [...head, ...tail.reverse()];
}

/** What of a piece that begins at `at` is not in its new text, as one edit. */
export function smallestEdit(before: string, after: string, at: number): LineEdit | undefined {
  if (before === after) return undefined;
  let start = 0;
  while (start < Math.min(before.length, after.length) && before[start] === after[start]) start++;
  let [end, newEnd] = [before.length, after.length];
  while (end > start && newEnd > start && before[end - 1] === after[newEnd - 1]) [end, newEnd] = [end - 1, newEnd - 1];
  return { span: { start: at + start, end: at + end }, text: after.slice(start, newEnd) };
}

/** A line with its edits made; they stand in order. */
export function withEdits(text: string, edits: readonly LineEdit[]): string {
  let made = '';
  let at = 0;
  for (const { span, text: by } of edits) {
    made += text.slice(at, span.start) + by;
    at = span.end;
  }
  return made + text.slice(at);
}
