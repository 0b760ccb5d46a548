import { type ChildProcess, spawn } from 'node:child_process';
import {
  createProtocolConnection,
  type Diagnostic,
  type InitializeResult,
  type ProtocolConnection,
  PublishDiagnosticsNotification,
  RegistrationRequest,
  UnregistrationRequest,
} from 'vscode-languageserver-protocol/node';
import type { InitializationOptions } from '#server/lsp/protocol.ts';

/** The built server as an editor meets it: a process on stdio. */
export interface Server {
  readonly connection: ProtocolConnection;
  readonly process: ChildProcess;
  readonly initialized: InitializeResult;
  /** Patterns it has asked to be told of. */
  readonly watched: readonly string[];
  /** Findings last sent for a file, once they satisfy a wish; rejects after ten seconds. */
  diagnostics(uri: string, wish?: (found: Diagnostic[]) => boolean): Promise<Diagnostic[]>;
  open(uri: string, text: string, version?: number): Promise<void>;
  change(uri: string, version: number, line: number, from: number, to: number, text: string): Promise<void>;
  /** Other settings from now on, and the server is told. */
  configure(settings: Record<string, unknown>): Promise<void>;
  stop(): Promise<number | null>;
}

export interface Wishes {
  readonly folder?: string;
  readonly settings?: Record<string, unknown>;
  readonly pull?: boolean;
  readonly command?: readonly string[];
  /** What a client of our own says of itself. */
  readonly options?: InitializationOptions;
  /** The client watches files that it is asked to. */
  readonly watches?: boolean;
}

export async function startServer({
  folder,
  settings,
  pull,
  options,
  watches,
  command = ['dist/server.js', '--stdio'],
}: Wishes = {}): Promise<Server> {
  const child = spawn(process.execPath, [...command], { stdio: ['pipe', 'pipe', 'inherit'] });
  if (!child.stdout || !child.stdin) throw new Error('no pipes');
  const connection = createProtocolConnection(child.stdout as never, child.stdin as never);
  let held = settings;
  const sent = new Map<string, Diagnostic[]>();
  const waiting = new Set<() => void>();
  connection.onNotification(PublishDiagnosticsNotification.type, ({ uri, diagnostics }) => {
    sent.set(uri, diagnostics);
    for (const look of waiting) look();
  });
  connection.onRequest('workspace/configuration', ({ items }: { items: unknown[] }) => items.map(() => held ?? {}));
  let watched: string[] = [];
  const asked = new Map<string, string[]>();
  connection.onRequest(RegistrationRequest.type, ({ registrations }) => {
    for (const { id, registerOptions } of registrations)
      asked.set(
        id,
        (registerOptions?.watchers ?? []).map(({ globPattern }: { globPattern: string }) => globPattern),
      );
    watched = [...asked.values()].flat();
  });
  connection.onRequest(UnregistrationRequest.type, ({ unregisterations }) => {
    for (const { id } of unregisterations) asked.delete(id);
    watched = [...asked.values()].flat();
  });
  connection.onRequest('workspace/diagnostic/refresh', () => null);
  for (const what of ['codeLens', 'inlayHint', 'semanticTokens'])
    connection.onRequest(`workspace/${what}/refresh`, () => null);
  connection.listen();
  const initialized = await connection.sendRequest<InitializeResult>('initialize', {
    processId: process.pid,
    rootUri: folder ?? null,
    workspaceFolders: folder ? [{ uri: folder, name: 'log' }] : null,
    ...(options ? { initializationOptions: options } : {}),
    capabilities: {
      workspace: {
        configuration: settings !== undefined,
        didChangeConfiguration: { dynamicRegistration: true },
        workspaceFolders: true,
        ...(watches ? { didChangeWatchedFiles: { dynamicRegistration: true } } : {}),
        diagnostics: { refreshSupport: true },
        codeLens: { refreshSupport: true },
        inlayHint: { refreshSupport: true },
        semanticTokens: { refreshSupport: true },
        workspaceEdit: { documentChanges: true, changeAnnotationSupport: {} },
      },
      textDocument: {
        hover: { contentFormat: ['markdown', 'plaintext'] },
        completion: { completionItem: { snippetSupport: true } },
        rename: { prepareSupport: true, honorsChangeAnnotations: true },
        ...(pull
          ? { diagnostic: { relatedDocumentSupport: true } }
          : { publishDiagnostics: { relatedInformation: true } }),
      },
    },
  });
  await connection.sendNotification('initialized', {});
  return {
    connection,
    process: child,
    initialized,
    get watched() {
      return watched;
    },
    diagnostics: (uri, wish = () => true) =>
      new Promise((done, failed) => {
        const late = setTimeout(
          () => failed(new Error(`not in time: ${uri} ${JSON.stringify(sent.get(uri))}`)),
          10_000,
        );
        const look = () => {
          const found = sent.get(uri);
          if (!found || !wish(found)) return;
          clearTimeout(late);
          waiting.delete(look);
          done(found);
        };
        waiting.add(look);
        look();
      }),
    open: (uri, text, version = 1) =>
      connection.sendNotification('textDocument/didOpen', {
        textDocument: { uri, languageId: 'graft', version, text },
      }),
    change: (uri, version, line, from, to, text) =>
      connection.sendNotification('textDocument/didChange', {
        textDocument: { uri, version },
        contentChanges: [{ range: { start: { line, character: from }, end: { line, character: to } }, text }],
      }),
    configure: (next) => {
      held = next;
      return connection.sendNotification('workspace/didChangeConfiguration', { settings: null });
    },
    stop: async () => {
      await connection.sendRequest('shutdown');
      const ended = new Promise<number | null>((done) => child.on('exit', done));
      await connection.sendNotification('exit');
      return ended;
    },
  };
}

export const codesOf = (found: readonly Diagnostic[]): string[] =>
  found.map((one) => `${one.range.start.line + 1} ${one.code}`);
