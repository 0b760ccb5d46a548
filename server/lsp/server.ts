import {
  type CodeLens,
  CodeLensRefreshRequest,
  type Connection,
  DidChangeConfigurationNotification,
  type Hover,
  type HoverParams,
  type InitializeParams,
  type InitializeResult,
  LogMessageNotification,
  MessageType,
  type Range,
  ResponseError,
  type TextDocumentContentChangeEvent,
} from 'vscode-languageserver';
import type { Code } from '#grammar/codes.ts';
import { shippedPractice } from '#server/engine/practice.ts';
import { addressOf } from '#server/workspace/address.ts';
import type { Host } from '#server/workspace/host.ts';
import type { Root } from '#server/workspace/root.ts';
import { Workspace } from '#server/workspace/workspace.ts';
import { AnswersShown } from './answers-shown.ts';
import { Asking } from './asking.ts';
import { attention } from './attention.ts';
import { capabilities, clientOf } from './capabilities.ts';
import { registerCheck } from './check.ts';
import { codeAction } from './code-action.ts';
import { codeLens } from './code-lens.ts';
import { documentSymbol } from './document-symbol.ts';
import { atOnce, type FileView, type Slices } from './feature.ts';
import { registerFigures } from './figures.ts';
import { Folders } from './folders.ts';
import { goToGraft } from './go-to-graft.ts';
import { hover } from './hover.ts';
import { logsIn } from './logs.ts';
import { registerMoving } from './moving.ts';
import { page } from './pages.ts';
import { registerPrinted } from './printed.ts';
import {
  type AttentionParams,
  AttentionRequest,
  type GoToGraftParams,
  GoToGraftRequest,
  type PageParams,
  PageRequest,
  settingsSection,
  ThemeNotification,
  type ThemeParams,
  TrustedNotification,
  type WorkParams,
  WorkRequest,
  type WriteLineParams,
  WriteLineRequest,
} from './protocol.ts';
import { Publisher } from './publisher.ts';
import { refactorActions } from './refactor.ts';
import { Watched } from './watched.ts';
import { workList } from './work-list.ts';
import { writeLine } from './write-line.ts';
import { registerWriting } from './writing.ts';

/** How often the server looks whether the day has turned. */
const dayLookMs = 60_000;

/** A day of the command line's `--on`; a setting of the editor stands over it. */
export interface ServerOptions {
  readonly on?: string;
  /** Address of a code's page on this machine. */
  readonly pageOf?: (code: Code) => string;
}

/** Wires the protocol to the workspace. Every request is answered from the log as it stands when it is asked. */
export function startServer(connection: Connection, given: Host, serverOptions: ServerOptions = {}): void {
  const host = waryOf(given, connection);
  const workspace = new Workspace(host);
  let client = clientOf({ capabilities: {} } as InitializeParams);
  let theme: ThemeParams['kind'] | undefined;
  let lens = true;
  const watched = new Watched(connection);
  const publisher = new Publisher(connection, workspace, host, () => client.diagnostics);
  const folders = new Folders(connection, workspace, publisher, host);
  const lenses = new AnswersShown<CodeLens>();

  connection.onInitialize((params): InitializeResult => {
    client = clientOf(params, serverOptions.pageOf);
    void workspace.trust(client.trusted);
    for (const uri of params.workspaceFolders?.map((folder) => folder.uri) ?? (params.rootUri ? [params.rootUri] : []))
      workspace.announceFolder(uri);
    return { capabilities: capabilities(client), serverInfo: { name: 'graftlog' } };
  });

  connection.onInitialized(async () => {
    // what every log is held against; read here it keeps neither the greeting nor the first file waiting
    shippedPractice();
    if (client.configuration)
      await connection.client.register(DidChangeConfigurationNotification.type, { section: settingsSection });
    if (client.watchesFiles) await watched.start(client.watchesLogs ? [] : ['**/*.graft']);
    if (client.folders) connection.workspace.onDidChangeWorkspaceFolders((change) => folders.changed(change, read));
    folders.showsProgress = client.progress;
    for (const root of workspace.roots) if (root.loading) await read(root);
  });

  /** The day first, then the files: a log is never shown as of another day than it will have. */
  async function read(root: Root): Promise<void> {
    await settingsOf(root);
    await folders.read(root);
  }

  workspace.onRead = (root) => {
    publisher.all(root);
    moving.read();
    void watched.follow(workspace.roots.flatMap(({ weather }) => weather.uris));
  };
  publisher.onAll = (root) => {
    moving.changed(root);
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
    const { today, hours } = root;
    let day: string | undefined;
    if (client.configuration) {
      // a client that fails to answer has no settings; its log is read all the same
      const settings = await connection.workspace
        .getConfiguration({ scopeUri: root.uri, section: settingsSection })
        .catch(() => undefined);
      const shown = settings?.lens !== false;
      if (shown !== lens && client.lensRefresh) refreshLenses();
      lens = shown;
      moving.showHints(settings?.hints !== false);
      root.hours = settings?.hours > 0 ? settings.hours : undefined;
      if (typeof settings?.today === 'string' && settings.today !== '') day = settings.today;
    }
    // a setting that was taken back lets today, or the command line's day, hold again
    root.today = day ?? serverOptions.on;
    if ((root.today !== today || root.hours !== hours) && !root.loading) publisher.all(root);
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
    moving.typed(uri, contentChanges.at(-1));
    const root = workspace.changeText(uri, version, contentChanges);
    if (root) publisher.changed(root, root.fileOf(uri), line);
  });
  connection.onDidSaveTextDocument(({ textDocument: { uri } }) =>
    client.watchesFiles ? undefined : workspace.saved(uri),
  );
  connection.onDidCloseTextDocument(async ({ textDocument: { uri } }) => {
    const address = addressOf(uri);
    lenses.closed(address);
    moving.closed(address);
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

  const asking = new Asking(workspace, host, () => theme);
  const answerHover = asking.file<HoverParams, Hover | null>(null, (view, { position }) =>
    hover(view, position, { markdown: client.markdown }),
  );
  connection.onHover(async (params, token) => {
    // figures of a folder half read would be wrong
    await workspace.rootOf(params.textDocument.uri)?.whenRead();
    return answerHover(params, token);
  });
  function* lensesIn(view: FileView): Slices<CodeLens[]> {
    return lens && !view.root.loading ? yield* codeLens(view) : [];
  }
  function lensesOf(root: Root, file: string): CodeLens[] {
    const view = asking.viewIn(root, file);
    return view ? atOnce(lensesIn(view)) : [];
  }
  function refreshLenses(): void {
    // a client that can't just now asks again with the next key
    void connection.sendRequest(CodeLensRefreshRequest.type).catch(() => {});
  }
  const answerLenses = asking.slices([], function* (view) {
    const answer = yield* lensesIn(view);
    lenses.keep(view.root, view.file, answer);
    return answer;
  });
  connection.onCodeLens(async (params, token) => {
    // the same here, and none would stay until the next key
    await workspace.rootOf(params.textDocument.uri)?.whenRead();
    return answerLenses(params, token);
  });
  registerWriting(connection, asking, () => client);
  connection.onDocumentSymbol(asking.slices([], documentSymbol));
  connection.onCodeAction(
    asking.file([], (view, { range, context }) => [
      ...codeAction(view, range, context.only, client.diagnostics, client.versions),
      ...refactorActions(view, range, context, client.refactoring),
    ]),
  );
  const moving = registerMoving(connection, asking, () => client);
  connection.languages.diagnostics.on(async ({ textDocument }, token) => {
    // a batch may stand in a file still to be read
    await workspace.rootOf(textDocument.uri)?.whenRead();
    const view = await asking.view(textDocument.uri, token);
    return { kind: 'full', items: view ? await publisher.pulled(view.root, view.file) : [] };
  });

  connection.onRequest(WorkRequest, async ({ root, again }: WorkParams) => {
    const asked = () => logsIn(workspace).filter((one) => root === undefined || one.uri === root);
    if (again) for (const one of asked()) if (one.stopped) await read(one);
    // before a folder is read and its day known a list would be of another log, on another day
    await Promise.all(asked().map((one) => one.whenRead()));
    return asked().map(workList);
  });
  connection.onRequest(AttentionRequest, async ({ uri, line, direction }: AttentionParams) => {
    const view = await asking.view(uri);
    return view ? attention(view.root, view.file, line, direction) : null;
  });
  connection.onRequest(WriteLineRequest, async ({ uri, text }: WriteLineParams) => {
    const view = await asking.view(uri);
    return view ? writeLine(view.root, view.file, text) : null;
  });
  connection.onRequest(GoToGraftRequest, async ({ text }: GoToGraftParams) => {
    await Promise.all(workspace.roots.map((root) => root.whenRead()));
    return goToGraft(logsIn(workspace), text);
  });
  registerFigures(connection, workspace);
  registerPrinted(connection, workspace);
  registerCheck(connection, workspace);
  connection.onRequest(PageRequest, ({ name }: PageParams) => page(name));
  connection.onNotification(TrustedNotification, () => workspace.trust(true));
  connection.onNotification(ThemeNotification, ({ kind }: ThemeParams) => {
    theme = kind;
  });
  connection.onRequest((method) => {
    throw new ResponseError(-32601, `graftlog does not answer ${method}.`);
  });
  connection.listen();
}

/** What runs by the clock has nobody to answer to: a fault in it is told, and the server goes on. */
function waryOf(host: Host, connection: Connection): Host {
  return {
    ...host,
    later: (milliseconds, run) =>
      host.later(milliseconds, () => {
        try {
          run();
        } catch (fault) {
          const message = `Graft Log could not finish what it was at: ${String(fault)}`;
          void connection.sendNotification(LogMessageNotification.type, { type: MessageType.Error, message });
        }
      }),
  };
}

/** A change that leaves the number of lines as it is: most keys. */
function isWithinLine(change: TextDocumentContentChangeEvent): change is { range: Range; text: string } {
  return 'range' in change && change.range.start.line === change.range.end.line && !/[\r\n]/.test(change.text);
}
