import { startServer } from '#server/lsp/server.ts';
import { disk } from '../disk.ts';
import { stdioConnection } from '../stdio-connection.ts';
import type { Asked } from './options.ts';

/** The language server on standard input and output, for any editor that speaks the protocol. */
export function lsp(asked: Asked): Promise<number> {
  const { on } = asked.values;
  startServer(stdioConnection(), disk, typeof on === 'string' ? { on } : {});
  return new Promise(() => {});
}
