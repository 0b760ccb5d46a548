import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { startServer } from '#server/lsp/server.ts';
import { disk } from './disk.ts';

/** The language server as a process: over stdio, or over whatever the editor names on the command line. */
const named = process.argv.some((argument) => /^--(stdio|node-ipc|socket|pipe|clientProcessId)/.test(argument));
const connection = named
  ? createConnection(ProposedFeatures.all)
  : createConnection(ProposedFeatures.all, process.stdin, process.stdout);
startServer(connection, disk);
