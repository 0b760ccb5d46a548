import { type Disposable, type ExtensionContext, window, workspace } from 'vscode';
import { type BaseLanguageClient, State } from 'vscode-languageclient';
import { ChangedNotification, ThemeNotification, TrustedNotification, type WorkList } from '#server/lsp/protocol.ts';
import { registerCheckTask } from './check-task.ts';
import { registerCommands } from './commands.ts';
import { registerDayLine } from './day-line.ts';
import { registerAddresses } from './go-to-graft.ts';
import { hintsFollowCaret } from './hints.ts';
import { LogStatus } from './log-status.ts';
import { Pages } from './pages.ts';
import { registerPhotoDrop } from './photo-drop.ts';
import { registerSplitSet } from './split-set.ts';
import { themeKind } from './theme.ts';
import { WorkListView } from './work-list.ts';

/** What both editions share: everything but how the server is started. */
export async function start(context: ExtensionContext, client: BaseLanguageClient): Promise<void> {
  const work = new WorkListView(client, context.workspaceState);
  const status = new LogStatus();
  const tellTheme = () => client.sendNotification(ThemeNotification, { kind: themeKind() });
  const pages = new Pages(client);
  const keep = (...parts: Disposable[]) => context.subscriptions.push(...parts);
  keep(work, status, pages, registerAddresses(client), registerCheckTask(client), ...registerCommands(client, work));
  keep(registerDayLine(client), registerPhotoDrop(client), registerSplitSet(client), hintsFollowCaret(client));
  work.onChange((lists: readonly WorkList[]) => status.show(lists));
  keep(
    client.onNotification(ChangedNotification, () => {
      work.refreshSoon();
      pages.logChanged();
    }),
    // a server that was started again knows neither theme nor what is shown
    client.onDidChangeState(({ newState }) => {
      if (newState === State.Running) void tellTheme().then(() => work.refresh());
      else if (newState === State.Stopped) status.stopped();
    }),
    window.onDidChangeActiveColorTheme(() => client.isRunning() && tellTheme()),
    workspace.onDidGrantWorkspaceTrust(() => client.isRunning() && client.sendNotification(TrustedNotification)),
    workspace.onDidChangeWorkspaceFolders(() => work.refreshSoon()),
  );
  await client.start();
}
