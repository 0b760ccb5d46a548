import { commands, type Disposable, Range, Selection, window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { type DayLineParams, DayLineRequest, type DayLineResult } from '#server/lsp/protocol.ts';

/** Today's date as a day line, by one key; the caret stands under it, ready for the first line of the day. */
export function registerDayLine(client: BaseLanguageClient): Disposable {
  return commands.registerCommand('graftlog.dayLine', async () => {
    const editor = window.activeTextEditor;
    if (editor?.document.languageId !== 'graft') return;
    const params: DayLineParams = { uri: editor.document.uri.toString(), line: editor.selection.active.line };
    const found: DayLineResult | null = await client.sendRequest(DayLineRequest, params);
    if (!found) return;
    const { edit, caret } = found;
    if (
      edit &&
      !(await editor.edit((put) => put.replace(new Range(edit.line, edit.from, edit.line, edit.to), edit.text)))
    )
      return;
    editor.selection = new Selection(caret.line, caret.character, caret.line, caret.character);
    editor.revealRange(editor.selection);
  });
}
