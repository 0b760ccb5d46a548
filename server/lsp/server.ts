import {
  type CodeLens,
  CodeLensRefreshRequest,
  type Connection,
  DidChangeConfigurationNotification,
  DidChangeWatchedFilesNotification,
  type InitializeParams,
  type InitializeResult,
  type Range,
  ResponseError,
  type TextDocumentContentChangeEvent,
} from 'vscode-languageserver';
import { isoDay } from '#grammar/values/date.ts';
import { benchSheet } from '#server/report/bench-sheet.ts';
import type { Host } from '#server/workspace/host.ts';
import type { Root } from '#server/workspace/root.ts';
import { Workspace } from '#server/workspace/workspace.ts';
import { attention } from './attention.ts';
import { capabilities, clientOf } from './capabilities.ts';
import { codeAction } from './code-action.ts';
import { codeLens } from './code-lens.ts';
import { completion } from './completion.ts';
import { definition } from './definition.ts';
import { documentSymbol } from './document-symbol.ts';
import type { FileView } from './feature.ts';
import { formatting, onTypeFormatting } from './formatting.ts';
import { goToGraft } from './go-to-graft.ts';
import { hover } from './hover.ts';
import { LensesShown } from './lenses-shown.ts';
import { page } from './pages.ts';
import {
  type AttentionParams,
  AttentionRequest,
  type GoToGraftParams,
  GoToGraftRequest,
  type PageParams,
  PageRequest,
  type SheetParams,
  SheetRequest,
  type SheetResult,
  settingsSection,
  ThemeNotification,
  type ThemeParams,
  type WorkParams,
  WorkRequest,
  type WriteLineParams,
  WriteLineRequest,
} from './protocol.ts';
import { Publisher } from './publisher.ts';
import { workList } from './work-list.ts';
import { writeLine } from './write-line.ts';

/** How often the server looks whether the day has turned. */
const dayLookMs = 60_000;

/** A day of the command line's `--on`; a setting of the editor stands over it. */
export interface ServerOptions {
  readonly on?: string;
}

/** Wires the protocol to the workspace. Every request is answered from the log as it stands when it is asked. */
export function startServer(connection: Connection, host: Host, serverOptions: ServerOptions = {}): void {
  const workspace = new Workspace(host);
  let client = clientOf({ capabilities: {} } as InitializeParams);
  let theme: ThemeParams['kind'] | undefined;
  let lens = true;
  const publisher = new Publisher(connection, workspace, host, () => client.diagnostics);
  const lenses = new LensesShown();

  connection.onInitialize((params): InitializeResult => {
    client = clientOf(params);
    for (const uri of params.workspaceFolders?.map((folder) => folder.uri) ?? (params.rootUri ? [params.rootUri] : []))
      workspace.announceFolder(uri);
    return { capabilities: capabilities(client), serverInfo: { name: 'graftlog' } };
  });

  connection.onInitialized(async () => {
    if (client.configuration)
      await connection.client.register(DidChangeConfigurationNotification.type, { section: settingsSection });
    if (client.watchesFiles)
      await connection.client.register(DidChangeWatchedFilesNotification.type, {
        watchers: [{ globPattern: '**/*.graft' }],
      });
    if (client.folders)
      connection.workspace.onDidChangeWorkspaceFolders(async ({ added, removed }) => {
        for (const { uri } of removed) {
          const root = workspace.removeFolder(uri);
          if (root) publisher.withdraw(root);
        }
        for (const { uri } of added) await read(workspace.announceFolder(uri));
      });
    for (const root of workspace.roots) if (root.loading) await read(root);
  });

  /** The day first, then the files: a log is never shown as of another day than it will have. */
  async function read(root: Root): Promise<void> {
    await settingsOf(root);
    await workspace.readFolder(root);
  }

  workspace.onRead = (root) => publisher.all(root);
  publisher.onAll = (root) => {
    if (client.lensRefresh && lenses.dropOutdated(root, lensesOf)) refreshLenses();
  };

  let stopLooking: () => void;
  /** A server that runs overnight has another day in the morning. */
  function lookAtDay(): void {
    for (const root of workspace.roots) publisher.dayTurned(root);
    stopLooking = host.later(dayLookMs, lookAtDay);
  }
  lookAtDay();
  connection.onShutdown(() => stopLooking());

  async function readSettings(): Promise<void> {
    for (const root of workspace.roots) await settingsOf(root);
  }

  async function settingsOf(root: Root): Promise<void> {
    const before = root.today;
    setDay(root);
    if (client.configuration) {
      // a client that fails to answer has no settings; its log is read all the same
      const settings = await connection.workspace
        .getConfiguration({ scopeUri: root.uri, section: settingsSection })
        .catch(() => undefined);
      const shown = settings?.lens !== false;
      if (shown !== lens && client.lensRefresh) refreshLenses();
      lens = shown;
      if (settings?.today) root.today = settings.today;
    }
    if (root.today !== before && !root.loading) publisher.all(root);
  }

  function setDay(root: Root): void {
    if (serverOptions.on) root.today ??= serverOptions.on;
  }

  connection.onDidChangeConfiguration(readSettings);

  connection.onDidOpenTextDocument(async ({ textDocument: { uri, version, text } }) => {
    const known = workspace.rootOf(uri);
    const root = await workspace.openText(uri, version, text);
    if (!root) return;
    if (!known) await settingsOf(root);
    publisher.changed(root, root.fileOf(uri));
  });
  connection.onDidChangeTextDocument(({ textDocument: { uri, version }, contentChanges }) => {
    const [change, ...more] = contentChanges;
    const line = change && more.length === 0 && isWithinLine(change) ? change.range.start.line : undefined;
    const root = workspace.changeText(uri, version, contentChanges);
    if (root) publisher.changed(root, root.fileOf(uri), line);
  });
  connection.onDidCloseTextDocument(async ({ textDocument: { uri } }) => {
    lenses.closed(uri);
    const root = await workspace.closeText(uri);
    if (!root) return;
    if (workspace.roots.includes(root)) publisher.changed(root, root.fileOf(uri));
    else publisher.withdraw(root);
  });
  connection.onDidChangeWatchedFiles(async ({ changes }) => {
    const touched = new Set<Root>();
    for (const { uri } of changes) {
      const root = await workspace.fileChanged(uri);
      if (root) touched.add(root);
    }
    for (const root of touched) publisher.all(root);
  });

  const viewIn = (root: Root, file: string): FileView | undefined => {
    const document = root.log.document(file);
    return document && { root, uri: root.uriOf(file), file, document, theme };
  };
  const viewOf = (uri: string): FileView | undefined => {
    const root = workspace.rootOf(uri);
    return root && viewIn(root, root.fileOf(uri));
  };
  /** An answer from a file, or nothing where the file is no log of ours. */
  const from = async <T>(uri: string, otherwise: T, answer: (view: FileView) => T): Promise<T> => {
    await workspace.settled(uri);
    const view = viewOf(uri);
    return view ? answer(view) : otherwise;
  };

  connection.onHover(({ textDocument, position }) =>
    from(textDocument.uri, null, (view) => hover(view, position, { markdown: client.markdown })),
  );
  function lensesOf(root: Root, file: string): CodeLens[] {
    const view = lens ? viewIn(root, file) : undefined;
    return view ? codeLens(view) : [];
  }
  function refreshLenses(): void {
    // a client that can't just now asks again with the next key
    void connection.sendRequest(CodeLensRefreshRequest.type).catch(() => {});
  }
  connection.onCodeLens(async ({ textDocument: { uri } }) => {
    // figures of a folder half read would be wrong, and none would stay until the next key
    await workspace.rootOf(uri)?.whenRead();
    return from(uri, [], ({ root, file }) => {
      const answer = lensesOf(root, file);
      lenses.keep(root, file, answer);
      return answer;
    });
  });
  connection.onCompletion(({ textDocument, position }) =>
    from(textDocument.uri, [], (view) => completion(view, position, { snippets: client.snippets })),
  );
  connection.onDefinition(({ textDocument, position }) =>
    from(textDocument.uri, [], (view) => definition(view, position)),
  );
  connection.onDocumentSymbol(({ textDocument }) => from(textDocument.uri, [], documentSymbol));
  connection.onDocumentFormatting(({ textDocument }) => from(textDocument.uri, [], (view) => formatting(view)));
  connection.onDocumentRangeFormatting(({ textDocument, range }) =>
    from(textDocument.uri, [], (view) => formatting(view, range.start.line, range.end.line)),
  );
  connection.onDocumentOnTypeFormatting(({ textDocument, position }) =>
    from(textDocument.uri, [], (view) => onTypeFormatting(view, position)),
  );
  connection.onCodeAction(({ textDocument, range, context }) =>
    from(textDocument.uri, [], (view) => codeAction(view, range, context.only, client.diagnostics)),
  );
  connection.languages.diagnostics.on(async ({ textDocument }) => ({
    kind: 'full',
    items: await from(textDocument.uri, [], ({ root, file }) => publisher.pulled(root, file)),
  }));

  connection.onRequest(WorkRequest, async ({ root }: WorkParams) => {
    const asked = () => workspace.roots.filter((one) => root === undefined || one.uri === root);
    // before a folder is read and its day known a list would be of another log, on another day
    await Promise.all(asked().map((one) => one.whenRead()));
    return asked().map(workList);
  });
  connection.onRequest(AttentionRequest, ({ uri, line, direction }: AttentionParams) =>
    from(uri, null, ({ root, file }) => attention(root, file, line, direction)),
  );
  connection.onRequest(WriteLineRequest, ({ uri, text }: WriteLineParams) =>
    from(uri, null, ({ root, file }) => writeLine(root, file, text)),
  );
  connection.onRequest(GoToGraftRequest, ({ text }: GoToGraftParams) => goToGraft(workspace.roots, text));
  connection.onRequest(SheetRequest, ({ uri }: SheetParams): SheetResult => {
    const root = (uri === undefined ? undefined : workspace.rootOf(uri)) ?? workspace.roots[0];
    return root ? { name: `bench-sheet-${isoDay(root.day)}.html`, html: benchSheet(root.answers) } : null;
  });
  connection.onRequest(PageRequest, ({ name }: PageParams) => page(name));
  connection.onNotification(ThemeNotification, ({ kind }: ThemeParams) => {
    theme = kind;
  });
  connection.onRequest((method) => {
    throw new ResponseError(-32601, `graftlog does not answer ${method}.`);
  });
  connection.listen();
}

/** A change that leaves the number of lines as it is: most keys. */
function isWithinLine(change: TextDocumentContentChangeEvent): change is { range: Range; text: string } {
  return 'range' in change && change.range.start.line === change.range.end.line && !/[\r\n]/.test(change.text);
}
