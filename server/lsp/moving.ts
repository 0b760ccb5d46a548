import type { Connection, ServerCapabilities } from 'vscode-languageserver';
import type { Asking } from './asking.ts';
import { documentHighlight } from './document-highlight.ts';
import { foldingRange } from './folding-range.ts';
import { references } from './references.ts';
import { selectionRange } from './selection-range.ts';

/** What serves moving about in a log. */
export const movingCapabilities: ServerCapabilities = {
  documentHighlightProvider: true,
  foldingRangeProvider: true,
  referencesProvider: true,
  selectionRangeProvider: true,
};

export function registerMoving(connection: Connection, asking: Asking): void {
  connection.onDocumentHighlight(asking.file(null, (view, { position }) => documentHighlight(view, position)));
  connection.onFoldingRanges(asking.slices([], foldingRange));
  connection.onReferences(
    asking.slices([], (view, { position, context }) => references(view, position, context.includeDeclaration)),
  );
  connection.onSelectionRanges(asking.file([], (view, { positions }) => selectionRange(view, positions)));
}
