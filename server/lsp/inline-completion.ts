import type { InlineCompletionItem } from 'vscode-languageserver';
import type { Position } from '#grammar/document.ts';
import { formatText } from '#grammar/format.ts';
import { nextGraft } from './completion-facts.ts';
import { entryAt, type FileView } from './feature.ts';

/** Below `graft K26.12` the next graft, like the last, in grey on the empty line: Tab takes it, Enter never does. */
export function inlineCompletion(view: FileView, { line, character }: Position): InlineCompletionItem[] {
  const text = entryAt(view, { line, character })?.line.text ?? '';
  const [next] = text.trim() === '' ? nextGraft(view, line) : [];
  if (!next) return [];
  const range = { start: { line, character: 0 }, end: { line, character: text.length } };
  return [{ insertText: formatText(next.text ?? next.label), range }];
}
