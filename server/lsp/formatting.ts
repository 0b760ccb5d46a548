import type { TextEdit } from 'vscode-languageserver';
import type { Position } from '#grammar/document.ts';
import { formatLines } from '#grammar/format.ts';
import { lineEdits } from '#grammar/line-edits.ts';
import type { FileView } from './feature.ts';

/** Layout of the file, or of some lines: only blanks and spellings that change inside a line, never a line end. */
export function formatting({ document }: FileView, from = 0, to = document.length - 1): TextEdit[] {
  return formatLines(document.entries, from, to).flatMap(({ line, text }) =>
    lineEdits(document.entries[line]?.line.text ?? '', text).map(({ span, text: newText }) => ({
      range: { start: { line, character: span.start }, end: { line, character: span.end } },
      newText,
    })),
  );
}

/**
 * The line that Enter has just finished; of two quick ones the first was overtaken, and its line stands above an empty
 * one. Its neighbours stay where they are: only a whole file or range moves them.
 */
export function onTypeFormatting(view: FileView, position: Position): TextEdit[] {
  const above = position.line - 1;
  const finished = view.document.entries[above]?.line.text.trim() === '' ? above - 1 : above;
  return formatting(view, finished, finished);
}
