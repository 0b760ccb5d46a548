import type { Connection } from 'vscode-languageserver';
import { ListFilesRequest, type ListFilesResult, ReadFileRequest, type ReadFileResult } from '#server/lsp/protocol.ts';
import type { Host } from '#server/workspace/host.ts';
import { dayAt } from '#server/workspace/today.ts';

/** Files through the editor's own file system: a worker has no disk. */
export function editorFiles(connection: Connection): Host {
  return {
    list: (root) => connection.sendRequest<ListFilesResult>(ListFilesRequest, { root }),
    read: async (uri) => (await connection.sendRequest<ReadFileResult>(ReadFileRequest, { uri })) ?? undefined,
    today: (zone) => dayAt(Date.now(), zone),
    now: () => performance.now(),
    later(milliseconds, run) {
      const waiting = setTimeout(run, milliseconds);
      return () => clearTimeout(waiting);
    },
    pause: () => new Promise((done) => setTimeout(done, 0)),
  };
}
