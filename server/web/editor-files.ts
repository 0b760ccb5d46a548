import type { Connection } from 'vscode-languageserver';
import {
  ListFilesRequest,
  type ListFilesResult,
  ReadFileRequest,
  type ReadFileResult,
  ReadNamedRequest,
  type ReadNamedResult,
} from '#server/lsp/protocol.ts';
import { encodingOf } from '#server/workspace/encoding.ts';
import type { Host } from '#server/workspace/host.ts';
import { dayAt } from '#server/workspace/today.ts';

/** Files through the editor's own file system: a worker has no disk. */
export function editorFiles(connection: Connection): Host {
  return {
    list: (root) => connection.sendRequest<ListFilesResult>(ListFilesRequest, { root }),
    read: async (uri) => (await connection.sendRequest<ReadFileResult>(ReadFileRequest, { uri })) ?? undefined,
    async readNamed(root, uri, most) {
      const found = await connection.sendRequest<ReadNamedResult>(ReadNamedRequest, { root, uri, most });
      return 'unread' in found ? found : { text: new TextDecoder(encodingOf(found.bytes)).decode(found.bytes) };
    },
    today: (zone) => dayAt(Date.now(), zone),
    now: () => performance.now(),
    later(milliseconds, run) {
      const waiting = setTimeout(run, milliseconds);
      return () => clearTimeout(waiting);
    },
    pause: () => new Promise((done) => setTimeout(done, 0)),
  };
}
