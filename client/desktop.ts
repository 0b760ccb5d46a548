import { type ExtensionContext, Uri } from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import { clientOptions } from './client-options.ts';
import { start } from './extension.ts';

let client: LanguageClient | undefined;

export async function activate(context: ExtensionContext): Promise<void> {
  const module = Uri.joinPath(context.extensionUri, 'dist', 'server.js').fsPath;
  client = new LanguageClient('graftlog', 'Graft Log', { module, transport: TransportKind.ipc }, clientOptions());
  await start(context, client);
}

export async function deactivate(): Promise<void> {
  await client?.stop();
}
