import { type Connection, DidChangeWatchedFilesNotification, type Disposable } from 'vscode-languageserver';

/** Files the client tells changes of: logs, and those that logs name, by their names as these change. */
export class Watched {
  readonly #connection: Connection;
  #started = false;
  #asked = '';
  #registered: Disposable | undefined;
  #work: Promise<void> = Promise.resolve();

  constructor(connection: Connection) {
    this.#connection = connection;
  }

  /** @param patterns what is watched for as long as the server runs */
  async start(patterns: readonly string[]): Promise<void> {
    this.#started = true;
    if (patterns.length > 0) await this.#register(patterns);
  }

  /** Watches these files and no longer those asked for before. One change after another, so that none is left behind. */
  follow(uris: readonly string[]): Promise<void> {
    const patterns = [...new Set(uris.map(patternOf))].sort();
    const asked = patterns.join('\n');
    if (!this.#started || asked === this.#asked) return this.#work;
    this.#asked = asked;
    this.#work = this.#work.then(async () => {
      const before = this.#registered;
      this.#registered = patterns.length > 0 ? await this.#register(patterns).catch(() => undefined) : undefined;
      before?.dispose();
    });
    return this.#work;
  }

  #register(patterns: readonly string[]): Promise<Disposable> {
    const watchers = patterns.map((globPattern) => ({ globPattern }));
    return this.#connection.client.register(DidChangeWatchedFilesNotification.type, { watchers });
  }
}

/** By its name in any folder: which one is meant is seen when it changes. What a pattern has signs for stands as any sign. */
function patternOf(uri: string): string {
  const name = decodeURIComponent(uri.slice(uri.lastIndexOf('/') + 1));
  return `**/${name.replace(/[[\]{}*?!,\\]/g, '?')}`;
}
