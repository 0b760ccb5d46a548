import { commands, type Disposable, window, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { commands as named, type SplitParams, SplitRequest, type SplitResult } from '#server/lsp/protocol.ts';

/** Asks which grafts of a set go to a line of their own, and puts them there. */
export function registerSplitSet(client: BaseLanguageClient): Disposable {
  return commands.registerCommand(named.splitSet, async (at: Omit<SplitParams, 'grafts'>, set: string) => {
    const grafts = await window.showInputBox({
      title: `Split grafts off ${set}`,
      prompt: 'Which grafts get a line of their own? It says what this line says, until you change it.',
      placeHolder: '5, 7..9',
    });
    if (grafts === undefined) return;
    const params: SplitParams = { ...at, grafts };
    const found: SplitResult = await client.sendRequest(SplitRequest, params);
    if (!found) return;
    if ('why' in found) void window.showInformationMessage(found.why);
    else await workspace.applyEdit(await client.protocol2CodeConverter.asWorkspaceEdit({ changes: found.changes }));
  });
}
