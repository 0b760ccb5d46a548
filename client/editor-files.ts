import { type Disposable, FileSystemError, FileType, Uri, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  type ListFilesParams,
  ListFilesRequest,
  type ReadFileParams,
  ReadFileRequest,
  type ReadFileResult,
  type ReadNamedParams,
  ReadNamedRequest,
  type ReadNamedResult,
} from '#server/lsp/protocol.ts';

/** A worker has no disk: the editor lists and reads the folder's files for it. */
export function answerFiles(client: BaseLanguageClient): Disposable[] {
  return [
    client.onRequest(ListFilesRequest, (params: ListFilesParams) => listLogs(Uri.parse(params.root))),
    client.onRequest<ReadFileResult, void>(ReadFileRequest, async (params: ReadFileParams) => {
      try {
        return await workspace.fs.readFile(Uri.parse(params.uri));
      } catch {
        return null;
      }
    }),
    client.onRequest<ReadNamedResult, void>(ReadNamedRequest, readNamed),
  ];
}

/** Where a link leads can't be asked of an editor's file system, so none is followed, on no part of the way. */
async function readNamed({ root, uri, most }: ReadNamedParams): Promise<ReadNamedResult> {
  const [folder, file] = [Uri.parse(root), Uri.parse(uri)];
  const way = file.path.startsWith(`${folder.path}/`) ? file.path.slice(folder.path.length + 1).split('/') : [];
  if (way.length === 0 || way.includes('..')) return { unread: 'outside' };
  try {
    let at = folder;
    for (const part of way) {
      at = Uri.joinPath(at, part);
      const { type, size } = await workspace.fs.stat(at);
      if (type & FileType.SymbolicLink) return { unread: 'link' };
      if (at.path !== file.path) continue;
      if (!(type & FileType.File)) return { unread: 'unreadable' };
      if (size > most) return { unread: 'large' };
    }
    return { bytes: await workspace.fs.readFile(file) };
  } catch (error) {
    return { unread: error instanceof FileSystemError && error.code === 'FileNotFound' ? 'missing' : 'unreadable' };
  }
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
