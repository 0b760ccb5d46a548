import type { Connection, ServerCapabilities } from 'vscode-languageserver';
import type { Asking } from './asking.ts';
import type { Client } from './capabilities.ts';
import { definition } from './definition.ts';
import { documentHighlight } from './document-highlight.ts';
import { documentLink } from './document-link.ts';
import { foldingRange } from './folding-range.ts';
import { references } from './references.ts';
import { prepareRename, rename } from './rename.ts';
import { selectionRange } from './selection-range.ts';
import { workspaceSymbol } from './workspace-symbol.ts';

/** What serves moving about in a log, and its names. */
export const movingCapabilities = ({ rename: { prepares } }: Client): ServerCapabilities => ({
  definitionProvider: true,
  documentHighlightProvider: true,
  documentLinkProvider: {},
  foldingRangeProvider: true,
  referencesProvider: true,
  renameProvider: prepares ? { prepareProvider: true } : true,
  selectionRangeProvider: true,
  workspaceSymbolProvider: true,
});

export function registerMoving(connection: Connection, asking: Asking, client: () => Client): void {
  const { workspace } = asking;
  connection.onDefinition(asking.file([], (view, { position }) => definition(view, position, client().definitions)));
  connection.onDocumentHighlight(asking.file(null, (view, { position }) => documentHighlight(view, position)));
  connection.onDocumentLinks(asking.slices([], documentLink));
  connection.onFoldingRanges(asking.slices([], foldingRange));
  connection.onPrepareRename(asking.file(null, (view, { position }) => prepareRename(view, position)));
  connection.onReferences(
    asking.slices([], (view, { position, context }) => references(view, position, context.includeDeclaration)),
  );
  connection.onRenameRequest(
    asking.slices(null, (view, { position, newName }) =>
      rename(view, position, newName, client().rename, (uri) => workspace.fileChanged(uri)),
    ),
  );
  connection.onSelectionRanges(asking.file([], (view, { positions }) => selectionRange(view, positions)));
  connection.onWorkspaceSymbol(({ query }) => workspaceSymbol(workspace.roots, query));
}
