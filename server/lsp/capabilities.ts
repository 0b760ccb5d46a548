import {
  CodeActionKind,
  type InitializeParams,
  type InitializeResult,
  TextDocumentSyncKind,
} from 'vscode-languageserver';
import type { Code } from '#grammar/codes.ts';
import { fixAllKind } from './code-action.ts';
import type { DefinitionOptions } from './definition.ts';
import { movingCapabilities } from './moving.ts';
import { type InitializationOptions, pageScheme } from './protocol.ts';
import { type RefactorOptions, refactorKinds } from './refactor.ts';
import type { RenameOptions } from './rename.ts';
import { writingCapabilities } from './writing.ts';

/** What the editor can do, as far as the server asks. */
export interface Client {
  /** Somebody vouched for what is open, or the editor knows no trust. */
  readonly trusted: boolean;
  readonly markdown: boolean;
  readonly snippets: boolean;
  readonly configuration: boolean;
  readonly watchesFiles: boolean;
  /** It tells of logs without being asked. */
  readonly watchesLogs: boolean;
  readonly folders: boolean;
  readonly lensRefresh: boolean;
  /** It leaves the line with the caret without hints by itself. */
  readonly followsCaret: boolean;
  readonly refreshes: { readonly hints: boolean; readonly tokens: boolean };
  readonly progress: boolean;
  /** Edits may name the version of a text they are for. */
  readonly versions: boolean;
  readonly pulls: boolean;
  readonly definitions: DefinitionOptions;
  readonly rename: RenameOptions;
  readonly refactoring: RefactorOptions;
  readonly diagnostics: {
    readonly related: boolean;
    readonly pageOf?: (code: Code) => string;
    readonly pulls: boolean;
    readonly refresh: boolean;
  };
}

/** @param pageOf address of a code's page on this machine, for clients that don't open the server's own */
export function clientOf(
  { capabilities, initializationOptions }: InitializeParams,
  pageOf?: (code: Code) => string,
): Client {
  const { workspace, textDocument, window } = capabilities;
  const options: InitializationOptions = initializationOptions ?? {};
  // findings come one way only: pushed they are a message sooner; a client that takes no pushes asks for them
  const pulls = textDocument?.diagnostic !== undefined && textDocument.publishDiagnostics === undefined;
  return {
    markdown: textDocument?.hover?.contentFormat?.includes('markdown') ?? false,
    snippets: textDocument?.completion?.completionItem?.snippetSupport ?? false,
    configuration: workspace?.configuration === true && workspace.didChangeConfiguration?.dynamicRegistration === true,
    trusted: options.trusted !== false,
    watchesFiles: workspace?.didChangeWatchedFiles?.dynamicRegistration === true,
    watchesLogs: options.supportsPages === true,
    folders: workspace?.workspaceFolders === true,
    lensRefresh: workspace?.codeLens?.refreshSupport === true,
    followsCaret: options.followsCaret === true,
    refreshes: {
      hints: workspace?.inlayHint?.refreshSupport === true,
      tokens: workspace?.semanticTokens?.refreshSupport === true,
    },
    progress: window?.workDoneProgress === true,
    versions: workspace?.workspaceEdit?.documentChanges === true,
    pulls,
    rename: {
      prepares: textDocument?.rename?.prepareSupport === true,
      versions: workspace?.workspaceEdit?.documentChanges === true,
      annotations:
        workspace?.workspaceEdit?.documentChanges === true &&
        workspace.workspaceEdit.changeAnnotationSupport !== undefined &&
        textDocument?.rename?.honorsChangeAnnotations === true,
    },
    definitions: {
      links: textDocument?.definition?.linkSupport === true,
      pages: initializationOptions?.supportsPages === true,
    },
    refactoring: {
      resolves: textDocument?.codeAction?.resolveSupport?.properties.includes('edit') === true,
      asks: options.supportsPages === true,
    },
    diagnostics: {
      related:
        textDocument?.publishDiagnostics?.relatedInformation ?? textDocument?.diagnostic?.relatedInformation ?? false,
      ...(options.supportsPages ? { pageOf: (code: Code) => `${pageScheme}:/${code}.md` } : pageOf ? { pageOf } : {}),
      pulls,
      refresh: workspace?.diagnostics?.refreshSupport ?? false,
    },
  };
}

/** What is offered to it. */
export function capabilities(client: Client): InitializeResult['capabilities'] {
  return {
    textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental, save: !client.watchesFiles },
    hoverProvider: true,
    codeLensProvider: {},
    documentSymbolProvider: true,
    codeActionProvider: {
      codeActionKinds: [CodeActionKind.QuickFix, fixAllKind, ...Object.values(refactorKinds)],
      resolveProvider: true,
    },
    ...writingCapabilities,
    ...movingCapabilities(client),
    ...(client.pulls ? { diagnosticProvider: { interFileDependencies: true, workspaceDiagnostics: false } } : {}),
    workspace: { workspaceFolders: { supported: true, changeNotifications: true } },
  };
}
