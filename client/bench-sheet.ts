import { env, Uri, ViewColumn, window, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { SheetRequest, type SheetResult } from '#server/lsp/protocol.ts';

/** Shows today's bench sheet beside the log. A page inside the editor can't be printed, so it can be saved and opened outside. */
export async function showBenchSheet(client: BaseLanguageClient): Promise<void> {
  const uri = window.activeTextEditor?.document.uri.toString();
  const sheet: SheetResult = await client.sendRequest(SheetRequest, uri ? { uri } : {});
  if (!sheet) {
    void window.showInformationMessage('No graft log here that was read to its end yet.');
    return;
  }
  const panel = window.createWebviewPanel('graftlog.sheet', 'Bench sheet', ViewColumn.Beside, { enableScripts: false });
  panel.webview.html = sheet.html;
  const save = 'Save it to print';
  if (
    (await window.showInformationMessage('To print the sheet, save it as a page and open it in a browser.', save)) !==
    save
  )
    return;
  const folder = workspace.workspaceFolders?.[0]?.uri;
  const target = await window.showSaveDialog({
    ...(folder ? { defaultUri: Uri.joinPath(folder, sheet.name) } : {}),
    filters: { 'Web page': ['html'] },
  });
  if (!target) return;
  await workspace.fs.writeFile(target, new TextEncoder().encode(sheet.html));
  if (target.scheme === 'file') await env.openExternal(target);
}
