import type { Connection } from 'vscode-languageserver';
import {
  ListFilesRequest,
  type ListFilesResult,
  ReadFileRequest,
  type ReadFileResult,
  ReadNamedRequest,
  type ReadNamedResult,
} from '#server/lsp/protocol.ts';
import { decode } from '#server/workspace/decode.ts';
import type { Host } from '#server/workspace/host.ts';
import { dayAt } from '#server/workspace/today.ts';

/** Files through the editor's own file system: a worker has no disk. */
export function editorFiles(connection: Connection): Host {
  return {
    list: (root) => connection.sendRequest<ListFilesResult>(ListFilesRequest, { root }),
    async read(uri) {
      const bytes = await connection.sendRequest<ReadFileResult>(ReadFileRequest, { uri });
      return bytes ? decode(bytes).text : undefined;
    },
    async readNamed(root, uri, most) {
      const found = await connection.sendRequest<ReadNamedResult>(ReadNamedRequest, { root, uri, most });
      return 'unread' in found ? found : { text: decode(found.bytes).text };
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
