import {
  type DataTransfer,
  type Disposable,
  DocumentDropEdit,
  languages,
  Position,
  Uri,
  WorkspaceEdit,
  window,
} from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { type PhotoParams, PhotoRequest, type PhotoResult } from '#server/lsp/protocol.ts';

/** A picture dropped on a line is written there as its `photo`; where that can't be, a sentence says why. */
export function registerPhotoDrop(client: BaseLanguageClient): Disposable {
  return languages.registerDocumentDropEditProvider(
    { language: 'graft' },
    {
      async provideDocumentDropEdits(document, position, dropped) {
        const files = await filesIn(dropped);
        if (files.length === 0) return undefined;
        const params: PhotoParams = { uri: document.uri.toString(), line: position.line, files };
        const found: PhotoResult = await client.sendRequest(PhotoRequest, params);
        if (!found) return undefined;
        const drop = new DocumentDropEdit('');
        if ('why' in found) {
          void window.showInformationMessage(found.why);
          return drop;
        }
        drop.additionalEdit = new WorkspaceEdit();
        drop.additionalEdit.insert(document.uri, new Position(found.line, found.character), found.text);
        return drop;
      },
    },
  );
}

/** Addresses of what is dropped; of a file from outside that has none, its name, which lies in no folder. */
async function filesIn(dropped: DataTransfer): Promise<string[]> {
  const list = (await dropped.get('text/uri-list')?.asString()) ?? '';
  const listed = list.split(/\r?\n/).filter((line) => line !== '' && !line.startsWith('#'));
  if (listed.length > 0) return listed.map((uri) => Uri.parse(uri).toString());
  return [...dropped].flatMap(([, item]) => {
    const file = item.asFile();
    return file ? [file.uri?.toString() ?? file.name] : [];
  });
}
