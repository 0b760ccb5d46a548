import { type Disposable, type ExtensionContext, window, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { ChangedNotification, ThemeNotification, TrustedNotification, type WorkList } from '#server/lsp/protocol.ts';
import { registerCommands } from './commands.ts';
import { LogStatus } from './log-status.ts';
import { registerPages } from './pages.ts';
import { themeKind } from './theme.ts';
import { WorkListView } from './work-list.ts';

/** What both editions share: everything but how the server is started. */
export async function start(context: ExtensionContext, client: BaseLanguageClient): Promise<void> {
  const work = new WorkListView(client);
  const status = new LogStatus();
  const keep = (...parts: Disposable[]) => context.subscriptions.push(...parts);
  keep(work, status, registerPages(client), ...registerCommands(context, client, work));
  work.onChange((lists: readonly WorkList[]) => status.show(lists));
  await client.start();
  keep(
    client.onNotification(ChangedNotification, () => work.refreshSoon()),
    window.onDidChangeActiveColorTheme(() => client.sendNotification(ThemeNotification, { kind: themeKind() })),
    workspace.onDidGrantWorkspaceTrust(() => client.sendNotification(TrustedNotification)),
    workspace.onDidChangeWorkspaceFolders(() => work.refreshSoon()),
  );
  await client.sendNotification(ThemeNotification, { kind: themeKind() });
  await work.refresh();
}
