import {
  type Connection,
  type InlayHint,
  InlayHintRefreshRequest,
  type Range,
  SemanticTokensRefreshRequest,
  type ServerCapabilities,
  type TextDocumentContentChangeEvent,
} from 'vscode-languageserver';
import type { Root } from '#server/workspace/root.ts';
import { AnswersShown } from './answers-shown.ts';
import type { Asking } from './asking.ts';
import type { Client } from './capabilities.ts';
import { tokensLegend } from './coloured-lines.ts';
import { definition } from './definition.ts';
import { documentHighlight } from './document-highlight.ts';
import { documentLink } from './document-link.ts';
import { FileFolds } from './folding-range.ts';
import { inlayHint } from './inlay-hint.ts';
import { logsIn } from './logs.ts';
import { references } from './references.ts';
import { prepareRename, rename } from './rename.ts';
import { selectionRange } from './selection-range.ts';
import { FileTokens, tokensIn } from './semantic-tokens.ts';
import { workspaceSymbol } from './workspace-symbol.ts';

/** What serves moving about in a log, and its names. */
export const movingCapabilities = ({ rename: { prepares } }: Client): ServerCapabilities => ({
  definitionProvider: true,
  documentHighlightProvider: true,
  documentLinkProvider: {},
  foldingRangeProvider: true,
  inlayHintProvider: true,
  referencesProvider: true,
  renameProvider: prepares ? { prepareProvider: true } : true,
  selectionRangeProvider: true,
  semanticTokensProvider: { legend: tokensLegend, range: true, full: { delta: true } },
  workspaceSymbolProvider: true,
});

/** What has to be told it, as the editor doesn't ask anew by itself. */
export interface Moving {
  /** A folder was read, or files changed outside the editor: names may be of another kind. */
  read(): void;
  /** Findings, work or figures of a log may have changed. */
  changed(root: Root): void;
  /** Text was put in here: the caret stands behind it. */
  typed(uri: string, change: TextDocumentContentChangeEvent | undefined): void;
  closed(uri: string): void;
  showHints(shown: boolean): void;
}

export function registerMoving(connection: Connection, asking: Asking, client: () => Client): Moving {
  const { workspace } = asking;
  const tokens = new FileTokens();
  const folds = new FileFolds();
  let showsHints = true;
  const hintsShown = new AnswersShown<InlayHint>();
  /** The lines in sight when hints were last asked for. */
  const inSight = new Map<string, Range>();
  /** The line written last, where the editor doesn't see to it: hints there would move under the hand. */
  const caret = new Map<string, number>();
  const hintsOf = (root: Root, file: string): InlayHint[] => {
    const view = showsHints && !root.loading ? asking.viewIn(root, file) : undefined;
    const range = inSight.get(root.uriOf(file));
    const hints = view && range ? inlayHint(view, range) : [];
    const line = client().followsCaret ? undefined : caret.get(root.uriOf(file));
    return hints.filter(({ position }) => position.line !== line);
  };
  const refresh = (able: boolean, method: string) => {
    // a client that can't just now asks again with the next key
    if (able) void connection.sendRequest(method).catch(() => {});
  };
  const { languages } = connection;
  connection.onDefinition(asking.file([], (view, { position }) => definition(view, position, client().definitions)));
  connection.onDocumentHighlight(asking.file(null, (view, { position }) => documentHighlight(view, position)));
  connection.onDocumentLinks(asking.slices([], documentLink));
  connection.onFoldingRanges(asking.slices([], (view) => folds.of(view)));
  languages.inlayHint.on(
    asking.file([], ({ root, uri, file }, { range }) => {
      inSight.set(uri, range);
      const answer = hintsOf(root, file);
      hintsShown.keep(root, file, answer);
      return answer;
    }),
  );
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
  languages.semanticTokens.on(asking.slices(null, (view) => tokens.full(view)));
  languages.semanticTokens.onDelta(
    asking.slices(null, (view, { previousResultId }) => tokens.delta(view, previousResultId)),
  );
  languages.semanticTokens.onRange(asking.file(null, (view, { range }) => tokensIn(view, range)));
  connection.onWorkspaceSymbol(({ query }) => workspaceSymbol(logsIn(workspace), query));

  return {
    read: () => refresh(client().refreshes.tokens, SemanticTokensRefreshRequest.method),
    changed(root) {
      if (hintsShown.dropOutdated(root, hintsOf)) refresh(client().refreshes.hints, InlayHintRefreshRequest.method);
    },
    typed(uri, change) {
      if (change && 'range' in change)
        caret.set(uri, change.range.start.line + change.text.split(/\r\n|\r|\n/).length - 1);
    },
    closed(uri) {
      caret.delete(uri);
      tokens.closed(uri);
      folds.closed(uri);
      hintsShown.closed(uri);
      inSight.delete(uri);
    },
    showHints(shown) {
      if (shown !== showsHints) refresh(client().refreshes.hints, InlayHintRefreshRequest.method);
      showsHints = shown;
    },
  };
}
