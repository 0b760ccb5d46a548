import type { TextEdit } from 'vscode-languageserver';
import { formatLines } from '#grammar/format.ts';
import type { FileView } from './feature.ts';

/** Layout of the file, or of some lines: only what changes inside a line, never a line end. */
export function formatting({ document }: FileView, from = 0, to = document.length - 1): TextEdit[] {
  const lines = document.entries.map((entry) => entry.line);
  return formatLines(lines, from, to).map(({ line, text }) => ({
    range: { start: { line, character: 0 }, end: { line, character: lines[line]?.text.length ?? 0 } },
    newText: text,
  }));
}
