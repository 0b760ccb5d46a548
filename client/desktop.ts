import { commands, type ExtensionContext, Uri } from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import { clientOptions } from './client-options.ts';
import { start } from './extension.ts';
import { openExample } from './open-example.ts';

let client: LanguageClient | undefined;

export async function activate(context: ExtensionContext): Promise<void> {
  const module = Uri.joinPath(context.extensionUri, 'dist', 'server.js').fsPath;
  client = new LanguageClient('graftlog', 'Graft Log', { module, transport: TransportKind.ipc }, clientOptions());
  context.subscriptions.push(commands.registerCommand('graftlog.openExample', () => openExample(context)));
  await commands.executeCommand('setContext', 'graftlog.hasDisk', true);
  await start(context, client);
}

export async function deactivate(): Promise<void> {
  await client?.stop();
}
