import { type Disposable, Uri, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { PageRequest, type PageResult, pageScheme } from '#server/lsp/protocol.ts';

/** The shipped practice and the pages of the codes, opened read-only: the server holds their text. */
export function registerPages(client: BaseLanguageClient): Disposable {
  return workspace.registerTextDocumentContentProvider(pageScheme, {
    async provideTextDocumentContent(uri) {
      const text: PageResult = await client.sendRequest(PageRequest, { name: uri.path.replace(/^\//, '') });
      return text ?? `There is no page named ${uri.path}.`;
    },
  });
}

export function pageUri(name: string): Uri {
  return Uri.from({ scheme: pageScheme, path: `/${name}` });
}
