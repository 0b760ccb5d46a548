import type { TextEdit } from 'vscode-languageserver';
import type { Position } from '#grammar/document.ts';
import { type Laid, layingOut } from '#grammar/format.ts';
import { lineEdits } from '#grammar/line-edits.ts';
import type { FileView, Slices } from './feature.ts';

/** Layout of the file, or of some lines: only blanks and spellings that change inside a line, never a line end. */
export function* formatting({ document }: FileView, from = 0, to = document.length - 1): Slices<TextEdit[]> {
  const changes: TextEdit[] = [];
  const put = (line: number, change: Laid) => {
    const edits = typeof change === 'string' ? lineEdits(document.entries[line]?.line.text ?? '', change) : change;
    for (const { span, text: newText } of edits)
      changes.push({
        range: { start: { line, character: span.start }, end: { line, character: span.end } },
        newText,
      });
  };
  yield* layingOut(document.entries, put, from, to);
  return changes;
}

/**
 * The line that Enter has just finished; of two quick ones the first was overtaken, and its line stands above an empty
 * one. Its neighbours stay where they are: only a whole file or range moves them.
 */
export function onTypeFormatting(view: FileView, position: Position): Slices<TextEdit[]> {
  const above = position.line - 1;
  const finished = view.document.entries[above]?.line.text.trim() === '' ? above - 1 : above;
  return formatting(view, finished, finished);
}
