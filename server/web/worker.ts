import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { startServer } from '#server/lsp/server.ts';
import { editorFiles } from './editor-files.ts';

declare const self: DedicatedWorkerGlobalScope;

/** The language server in a worker; the editor lists and reads files for it. */
const connection = createConnection(new BrowserMessageReader(self), new BrowserMessageWriter(self));
startServer(connection, editorFiles(connection));
