import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { serverReady } from '#server/lsp/protocol.ts';
import { startServer } from '#server/lsp/server.ts';
import { editorFiles } from './editor-files.ts';

declare const self: DedicatedWorkerGlobalScope;

/** The language server in a worker, or in the extension host with a channel's end for `self`; the editor lists and reads files for it. */
const connection = createConnection(new BrowserMessageReader(self), new BrowserMessageWriter(self));
startServer(connection, editorFiles(connection));
self.postMessage(serverReady);
