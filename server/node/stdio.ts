import { createConnection, ProposedFeatures, StreamMessageReader } from 'vscode-languageserver/node';
import { startServer } from '#server/lsp/server.ts';
import { disk } from './disk.ts';
import { OnePieceWriter } from './one-piece-writer.ts';

/** The language server as a process: over stdio, or over whatever the editor names on the command line. */
const elsewhere = process.argv.some((argument) => /^--(node-ipc|socket|pipe)/.test(argument));
const connection = elsewhere
  ? createConnection(ProposedFeatures.all)
  : createConnection(ProposedFeatures.all, new StreamMessageReader(process.stdin), new OnePieceWriter(process.stdout));
startServer(connection, disk);
