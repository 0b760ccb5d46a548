import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type ServerOptions, startServer } from '#server/lsp/server.ts';
import { disk } from '../disk.ts';
import { stdioConnection } from '../stdio-connection.ts';
import type { Asked } from './options.ts';

/** The language server on standard input and output, for any editor that speaks the protocol. */
export function lsp(asked: Asked): Promise<number> {
  const { on } = asked.values;
  startServer(stdioConnection(), disk, { ...pages(), ...(typeof on === 'string' ? { on } : {}) });
  return new Promise(() => {});
}

/** Pages of the codes as they lie beside the bundle: an editor that doesn't know the server's own addresses opens files. */
function pages(): Pick<ServerOptions, 'pageOf'> {
  const at = (name: string) => new URL(`../grammar/pages/${name}`, import.meta.url);
  return existsSync(fileURLToPath(at(''))) ? { pageOf: (code) => at(`${code}.md`).href } : {};
}
