import { type ExtensionContext, Uri } from 'vscode';
import { LanguageClient } from 'vscode-languageclient/browser';
import { clientOptions } from './client-options.ts';
import { answerFiles } from './editor-files.ts';
import { start } from './extension.ts';

let client: LanguageClient | undefined;

export async function activate(context: ExtensionContext): Promise<void> {
  const script = Uri.joinPath(context.extensionUri, 'dist', 'web', 'server.js').toString(true);
  client = new LanguageClient('graftlog', 'Graft Log', new Worker(script), clientOptions());
  context.subscriptions.push(...answerFiles(client));
  await start(context, client);
}

export async function deactivate(): Promise<void> {
  await client?.stop();
}
