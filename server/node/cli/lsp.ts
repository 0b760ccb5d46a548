import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { startServer } from '#server/lsp/server.ts';
import { disk } from '../disk.ts';
import type { Asked } from './options.ts';

/** The language server on standard input and output, for any editor that speaks the protocol. */
export function lsp(asked: Asked): Promise<number> {
  const connection = createConnection(ProposedFeatures.all, process.stdin, process.stdout);
  const { on } = asked.values;
  startServer(connection, disk, typeof on === 'string' ? { on } : {});
  return new Promise(() => {});
}
