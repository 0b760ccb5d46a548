import type { TextEdit } from 'vscode-languageserver-protocol';

/** A text with the protocol's edits made, from the end backwards, as an editor makes them. */
export function edited(text: string, edits: readonly TextEdit[]): string {
  const lines = text.split('\n');
  const offset = ({ line, character }: { readonly line: number; readonly character: number }) =>
    lines.slice(0, line).reduce((sum, one) => sum + one.length + 1, 0) + character;
  return [...edits]
    .map(({ range, newText }) => ({ from: offset(range.start), to: offset(range.end), newText }))
    .sort((a, b) => b.from - a.from || b.to - a.to)
    .reduce((all, { from, to, newText }) => all.slice(0, from) + newText + all.slice(to), text);
}
