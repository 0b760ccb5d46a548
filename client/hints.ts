import {
  type Disposable,
  type InlayHint,
  type TextDocument,
  type TextEditorSelectionChangeEvent,
  window,
} from 'vscode';
import type { BaseLanguageClient, InlayHintsMiddleware } from 'vscode-languageclient';
import { InlayHintRequest } from 'vscode-languageclient';

/** A caret that runs down a page asks once, where it stops. */
const restMs = 120;

const caretLines = (document: TextDocument): ReadonlySet<number> =>
  new Set(
    window.visibleTextEditors
      .filter((editor) => editor.document === document)
      .flatMap((editor) => editor.selections.map(({ active }) => active.line)),
  );

/** None on a line that is being written: a note that comes and goes there would move the text under the hand. */
export const hintsMiddleware: InlayHintsMiddleware = {
  async provideInlayHints(document, range, token, next) {
    const hints = await next(document, range, token);
    const lines = caretLines(document);
    return hints?.filter((hint: InlayHint) => !lines.has(hint.position.line));
  },
};

/** The editor asks for hints when text changes; when the caret goes to another line it has to be told. */
export function hintsFollowCaret(client: BaseLanguageClient): Disposable {
  let line: number | undefined;
  let waiting: ReturnType<typeof setTimeout> | undefined;
  return window.onDidChangeTextEditorSelection(({ textEditor, selections }: TextEditorSelectionChangeEvent) => {
    const { document } = textEditor;
    const now = selections[0]?.active.line;
    if (document.languageId !== 'graft' || now === line) return;
    line = now;
    clearTimeout(waiting);
    waiting = setTimeout(() => {
      if (client.isRunning())
        client.getFeature(InlayHintRequest.method)?.getProvider(document)?.onDidChangeInlayHints.fire();
    }, restMs);
  });
}
