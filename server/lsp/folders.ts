import type { Connection, WorkDoneProgressServerReporter } from 'vscode-languageserver';
import type { Host } from '#server/workspace/host.ts';
import type { Root } from '#server/workspace/root.ts';
import type { Workspace } from '#server/workspace/workspace.ts';
import type { Publisher } from './publisher.ts';

/** Reading that is done sooner needs no word. */
const patienceMs = 1000;

interface FolderUri {
  readonly uri: string;
}

/** Folders as the editor opens and closes them: read with progress where it takes long, and taken back when they go. */
export class Folders {
  readonly #connection: Connection;
  readonly #workspace: Workspace;
  readonly #publisher: Publisher;
  readonly #host: Host;
  /** The editor shows progress of our own, and lets it be stopped. */
  showsProgress = false;

  constructor(connection: Connection, workspace: Workspace, publisher: Publisher, host: Host) {
    this.#connection = connection;
    this.#workspace = workspace;
    this.#publisher = publisher;
    this.#host = host;
  }

  async read(root: Root): Promise<void> {
    let stopped = false;
    let done = 0;
    let total = 0;
    let progress: WorkDoneProgressServerReporter | undefined;
    let over = false;
    const cancel = this.#host.later(patienceMs, () => void begin());
    const say = () => progress?.report(Math.floor((100 * done) / Math.max(1, total)), `${done} of ${total} files`);
    const begin = async () => {
      if (!this.showsProgress) return;
      // an editor that can't show it just now is no reason not to read
      progress = await this.#connection.window.createWorkDoneProgress().catch(() => undefined);
      if (over) return progress?.done();
      progress?.begin(`Graft Log reads ${root.name}`, 0, undefined, true);
      progress?.token.onCancellationRequested(() => {
        stopped = true;
      });
      say();
    };
    let said = this.#host.now();
    try {
      await this.#workspace.readFolder(root, {
        stopped: () => stopped,
        reading: (count, of) => {
          done = count;
          total = of;
          if (this.#host.now() - said < 100) return;
          said = this.#host.now();
          say();
        },
      });
    } finally {
      over = true;
      cancel();
      progress?.done();
    }
  }

  /** @param read reads a folder that came, with its settings */
  async changed(
    { added, removed }: { readonly added: readonly FolderUri[]; readonly removed: readonly FolderUri[] },
    read: (root: Root) => Promise<void>,
  ): Promise<void> {
    // made known first, so that a file open in a folder that goes finds the one that comes
    const come = added.map(({ uri }) => this.#workspace.announceFolder(uri));
    for (const { uri } of removed) {
      const left = await this.#workspace.removeFolder(uri);
      if (!left) continue;
      this.#publisher.withdraw(left.gone);
      for (const heir of left.heirs) this.#publisher.all(heir);
    }
    for (const root of come) await read(root);
  }
}
