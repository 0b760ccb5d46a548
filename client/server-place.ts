import { type Uri, workspace } from 'vscode';
import { serverReady } from '#server/lsp/protocol.ts';

/** Where a server listens, and how it is ended. */
export interface ServerPlace {
  readonly port: Worker | MessagePort;
  end(): void;
}

/** A worker that neither listens by then nor says what is wrong, ms: some editors load nothing into one and stay silent. */
const patience = 20_000;

/**
 * The server's script in a worker; where none can start, as in editors that forbid them to an extension, in the
 * extension host itself over a message channel. It works in slices there, too, so that the host stays free for others.
 * Rejects where it starts in neither.
 */
export function placeServer(script: Uri): Promise<ServerPlace> {
  return inWorker(script).catch(() => inHost(script));
}

async function inWorker(script: Uri): Promise<ServerPlace> {
  const worker = new Worker(script.toString(true));
  const end = () => worker.terminate();
  await listening(worker).catch((error: unknown) => {
    end();
    throw error;
  });
  return { port: worker, end };
}

async function inHost(script: Uri): Promise<ServerPlace> {
  const code = new TextDecoder().decode(await workspace.fs.readFile(script));
  const { port1, port2 } = new MessageChannel();
  // what the worker's script takes for its own scope is the channel's other end
  new Function('self', 'module', code)(port2, undefined);
  await listening(port1);
  return { port: port1, end: () => port1.close() };
}

/** Once the server has said that it listens. */
function listening(port: Worker | MessagePort): Promise<void> {
  return new Promise((done, fail) => {
    const late = setTimeout(() => fail(new Error('The language server did not start.')), patience);
    const settle = (then: () => void) => () => {
      clearTimeout(late);
      then();
    };
    port.onmessage = ({ data }: MessageEvent) => data === serverReady && settle(done)();
    port.addEventListener(
      'error',
      settle(() => fail(new Error('The language server could not be loaded.'))),
    );
  });
}
