import { type Disposable, FileType, Uri, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { type ListFilesParams, ListFilesRequest, type ReadFileParams, ReadFileRequest } from '#server/lsp/protocol.ts';

/** A worker has no disk: the editor lists and reads the folder's files for it. */
export function answerFiles(client: BaseLanguageClient): Disposable[] {
  return [
    client.onRequest(ListFilesRequest, (params: ListFilesParams) => listLogs(Uri.parse(params.root))),
    client.onRequest(ReadFileRequest, async (params: ReadFileParams) => {
      try {
        return new TextDecoder().decode(await workspace.fs.readFile(Uri.parse(params.uri)));
      } catch {
        return null;
      }
    }),
  ];
}

/** Walked folder by folder, as a search for `**` also returned files that were gone. Hidden folders and links are passed over. */
async function listLogs(root: Uri): Promise<string[]> {
  const found: string[] = [];
  const folders = [root];
  for (let folder = folders.pop(); folder; folder = folders.pop()) {
    const entries = await workspace.fs.readDirectory(folder).then(
      (list) => list,
      () => [],
    );
    for (const [name, type] of entries) {
      if (type & FileType.SymbolicLink) continue;
      if (type & FileType.Directory && !name.startsWith('.') && name !== 'node_modules')
        folders.push(Uri.joinPath(folder, name));
      else if (type & FileType.File && name.endsWith('.graft')) found.push(Uri.joinPath(folder, name).toString());
    }
  }
  return found.sort();
}
