import { type ExtensionContext, Uri } from 'vscode';
import { BrowserMessageReader, BrowserMessageWriter, LanguageClient } from 'vscode-languageclient/browser';
import { clientOptions } from './client-options.ts';
import { answerFiles } from './editor-files.ts';
import { start } from './extension.ts';
import { placeServer, type ServerPlace } from './server-place.ts';

let client: LanguageClient | undefined;

export async function activate(context: ExtensionContext): Promise<void> {
  const script = Uri.joinPath(context.extensionUri, 'dist', 'web', 'server.js');
  let place: ServerPlace | undefined;
  // a place of its own for each start: the one before has ended or is to end; handed over as reader and writer, as
  // editors put a class of their own behind `Worker` and the client wouldn't know it again
  const newServer = async () => {
    place?.end();
    place = await placeServer(script);
    return { reader: new BrowserMessageReader(place.port), writer: new BrowserMessageWriter(place.port) };
  };
  client = new LanguageClient('graftlog', 'Graft Log', newServer, clientOptions());
  context.subscriptions.push({ dispose: () => place?.end() }, ...answerFiles(client));
  await start(context, client);
}

export async function deactivate(): Promise<void> {
  await client?.stop();
}
