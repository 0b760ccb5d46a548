import { PassThrough } from 'node:stream';
import { createConnection, StreamMessageReader, StreamMessageWriter } from 'vscode-languageserver/node';
import {
  createProtocolConnection,
  type Diagnostic,
  type InitializeParams,
  type ProtocolConnection,
} from 'vscode-languageserver-protocol/node';
import { toDay } from '#grammar/values/date.ts';
import { startServer } from '#server/lsp/server.ts';
import type { Host } from '#server/workspace/host.ts';

/** The server in this process, on files of the test's own: what it says of them, and when. */
export interface HostedServer {
  readonly connection: ProtocolConnection;
  /** Findings the editor holds, by URI; a file without any is not in it. */
  readonly held: Map<string, Diagnostic[]>;
  /** Waits until something holds, looking with each turn of the loop; fails after five seconds. */
  until(wish: () => boolean): Promise<void>;
  stop(): void;
}

/** @param files by URI; they may change while the server runs */
export const memoryHost = (files: Map<string, string>): Host => ({
  list: async (root) => [...files.keys()].filter((uri) => uri.startsWith(`${root}/`)).sort(),
  read: async (uri) => files.get(uri),
  readNamed: async () => ({ unread: 'missing' }),
  today: () => toDay(2027, 4, 6),
  now: () => performance.now(),
  later(milliseconds, run) {
    const waiting = setTimeout(run, milliseconds);
    return () => clearTimeout(waiting);
  },
  pause: () => new Promise((done) => setImmediate(done)),
});

export async function hostServer(
  host: Host,
  folders: readonly string[],
  capabilities: InitializeParams['capabilities'] = {},
  prepare: (connection: ProtocolConnection) => void = () => {},
): Promise<HostedServer> {
  const [there, back] = [new PassThrough(), new PassThrough()];
  startServer(createConnection(new StreamMessageReader(there), new StreamMessageWriter(back)), host);
  const connection = createProtocolConnection(new StreamMessageReader(back), new StreamMessageWriter(there));
  const held = new Map<string, Diagnostic[]>();
  connection.onNotification(
    'textDocument/publishDiagnostics',
    ({ uri, diagnostics }: { uri: string; diagnostics: Diagnostic[] }) => {
      if (diagnostics.length > 0) held.set(uri, diagnostics);
      else held.delete(uri);
    },
  );
  prepare(connection);
  connection.listen();
  await connection.sendRequest('initialize', {
    processId: null,
    rootUri: null,
    workspaceFolders: folders.map((uri) => ({ uri, name: uri })),
    capabilities: {
      ...capabilities,
      workspace: { workspaceFolders: true, ...capabilities.workspace },
      textDocument: { publishDiagnostics: {}, ...capabilities.textDocument },
    },
  });
  await connection.sendNotification('initialized', {});
  return {
    connection,
    held,
    async until(wish) {
      const late = performance.now() + 5000;
      while (!wish()) {
        if (performance.now() > late) throw new Error(`not in time; held: ${JSON.stringify([...held])}`);
        await new Promise((done) => setTimeout(done, 5));
      }
    },
    stop: () => connection.dispose(),
  };
}
