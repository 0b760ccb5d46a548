import { type ExtensionContext, Uri } from 'vscode';
import { BrowserMessageReader, BrowserMessageWriter, LanguageClient } from 'vscode-languageclient/browser';
import { clientOptions } from './client-options.ts';
import { answerFiles } from './editor-files.ts';
import { start } from './extension.ts';

let client: LanguageClient | undefined;

export async function activate(context: ExtensionContext): Promise<void> {
  const script = Uri.joinPath(context.extensionUri, 'dist', 'web', 'server.js').toString(true);
  let worker: Worker | undefined;
  // a worker of its own for each start: the one before has ended or is to end; handed over as reader and writer, as
  // editors put a class of their own behind `Worker` and the client wouldn't know it again
  const newWorker = async () => {
    worker?.terminate();
    worker = new Worker(script);
    return { reader: new BrowserMessageReader(worker), writer: new BrowserMessageWriter(worker) };
  };
  client = new LanguageClient('graftlog', 'Graft Log', newWorker, clientOptions());
  context.subscriptions.push({ dispose: () => worker?.terminate() }, ...answerFiles(client));
  await start(context, client);
}

export async function deactivate(): Promise<void> {
  await client?.stop();
}
