import { type Disposable, EventEmitter, Uri, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  type FiguresParams,
  FiguresRequest,
  type FiguresResult,
  PageRequest,
  type PageResult,
  pageScheme,
} from '#server/lsp/protocol.ts';

/** Pages opened read-only, of which the server holds the text: practice, codes, and figures of a log as it stands. */
export class Pages implements Disposable {
  readonly #changed = new EventEmitter<Uri>();
  readonly #registered: Disposable;

  constructor(client: BaseLanguageClient) {
    this.#registered = workspace.registerTextDocumentContentProvider(pageScheme, {
      onDidChange: this.#changed.event,
      async provideTextDocumentContent(uri) {
        if (uri.query) {
          const asked = JSON.parse(uri.query) as FiguresParams;
          const figures: FiguresResult = await client.sendRequest(FiguresRequest, asked);
          return figures ?? 'No graft log in this folder yet.';
        }
        const text: PageResult = await client.sendRequest(PageRequest, { name: uri.path.replace(/^\//, '') });
        return text ?? `There is no page named ${uri.path}.`;
      },
    });
  }

  /** The log has changed: figures that are open are worked out again. */
  logChanged(): void {
    for (const { uri } of workspace.textDocuments) if (uri.scheme === pageScheme && uri.query) this.#changed.fire(uri);
  }

  dispose(): void {
    this.#registered.dispose();
    this.#changed.dispose();
  }
}

export function pageUri(name: string): Uri {
  return Uri.from({ scheme: pageScheme, path: `/${name}` });
}

/** What is asked stands in the address, so that the page can be asked again. */
export function figuresUri(title: string, asked: FiguresParams): Uri {
  return Uri.from({ scheme: pageScheme, path: `/${title}`, query: JSON.stringify(asked) });
}
