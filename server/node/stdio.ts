import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { startServer } from '#server/lsp/server.ts';
import { disk } from './disk.ts';
import { stdioConnection } from './stdio-connection.ts';
import './steady-compiler.ts';

/** The language server as a process: over stdio, or over whatever the editor names on the command line. */
const elsewhere = process.argv.some((argument) => /^--(node-ipc|socket|pipe)/.test(argument));
startServer(elsewhere ? createConnection(ProposedFeatures.all) : stdioConnection(), disk);
