import { env, Uri, ViewColumn, window, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { ReportRequest, type SheetParams, SheetRequest, type SheetResult } from '#server/lsp/protocol.ts';

interface Printed {
  readonly request: string;
  /** Of the panel. */
  readonly id: string;
  readonly title: string;
  readonly offer: string;
}

const benchSheet: Printed = {
  request: SheetRequest,
  id: 'graftlog.sheet',
  title: 'Bench sheet',
  offer: 'To print the sheet, save it as a page and open it in a browser.',
};

const report: Printed = {
  request: ReportRequest,
  id: 'graftlog.report',
  title: 'Season report',
  offer: 'To print the report or hand it on, save it as a page: one file, opened in any browser.',
};

export const showBenchSheet = (client: BaseLanguageClient): Promise<void> => show(client, benchSheet);
export const showReport = (client: BaseLanguageClient): Promise<void> => show(client, report);

/** Shows a page beside the log. A page inside the editor can't be printed, so it can be saved and opened outside. */
async function show(client: BaseLanguageClient, { request, id, title, offer }: Printed): Promise<void> {
  const uri = window.activeTextEditor?.document.uri.toString();
  const params: SheetParams = uri ? { uri } : {};
  const page = await client.sendRequest<SheetResult>(request, params);
  if (!page) {
    void window.showInformationMessage('No graft log here that was read to its end yet.');
    return;
  }
  const panel = window.createWebviewPanel(id, title, ViewColumn.Beside, { enableScripts: false });
  panel.webview.html = page.html;
  const save = 'Save it to print';
  if ((await window.showInformationMessage(offer, save)) !== save) return;
  const folder = workspace.workspaceFolders?.[0]?.uri;
  const target = await window.showSaveDialog({
    ...(folder ? { defaultUri: Uri.joinPath(folder, page.name) } : {}),
    filters: { 'Web page': ['html'] },
  });
  if (!target) return;
  await workspace.fs.writeFile(target, new TextEncoder().encode(page.html));
  if (target.scheme === 'file') await env.openExternal(target);
}
