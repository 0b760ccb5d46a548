import { Emitter } from '@codingame/monaco-vscode-api/vscode/vs/base/common/event';
import { URI } from '@codingame/monaco-vscode-api/vscode/vs/base/common/uri';
import {
  createFileSystemProviderError,
  FileSystemProviderCapabilities,
  FileSystemProviderErrorCode,
  FileType,
  type IFileChange,
  type IFileSystemProviderWithFileReadWriteCapability,
  type IFileWriteOptions,
  type IStat,
} from '@codingame/monaco-vscode-api/vscode/vs/platform/files/common/files';

const codes: Record<number, FileSystemProviderErrorCode> = {
  404: FileSystemProviderErrorCode.FileNotFound,
  403: FileSystemProviderErrorCode.NoPermissions,
  409: FileSystemProviderErrorCode.FileExists,
};
const kinds = { changed: 0, added: 1, deleted: 2 } as const;

/** The folder on disk, reached through the local server: one request for each operation, changes told by the server. */
export class Disk implements IFileSystemProviderWithFileReadWriteCapability {
  readonly capabilities =
    FileSystemProviderCapabilities.FileReadWrite | FileSystemProviderCapabilities.PathCaseSensitive;
  readonly #changes = new Emitter<readonly IFileChange[]>();
  readonly onDidChangeFile = this.#changes.event;
  readonly onDidChangeCapabilities = new Emitter<void>().event;
  readonly #base: string;
  readonly #root: string;

  constructor(base: string, root: string) {
    this.#base = base;
    this.#root = root;
    new EventSource(`${base}events`).onmessage = (event) => {
      const changes = JSON.parse(event.data) as { kind: keyof typeof kinds; path: string }[];
      this.#changes.fire(
        changes.map(({ kind, path }) => ({ type: kinds[kind], resource: URI.file(this.#root + path) })),
      );
    };
  }

  watch() {
    return { dispose() {} };
  }

  async stat(uri: URI): Promise<IStat> {
    const { type, ...rest } = await (await this.#ask('stat', uri)).json();
    return { ...rest, type: type === 'folder' ? FileType.Directory : FileType.File };
  }

  async readdir(uri: URI): Promise<[string, FileType][]> {
    const entries: [string, string][] = await (await this.#ask('list', uri)).json();
    return entries.map(([name, type]) => [name, type === 'folder' ? FileType.Directory : FileType.File]);
  }

  async readFile(uri: URI): Promise<Uint8Array> {
    return new Uint8Array(await (await this.#ask('read', uri)).arrayBuffer());
  }

  async writeFile(uri: URI, content: Uint8Array, options: IFileWriteOptions): Promise<void> {
    const how = `${options.create ? '&create=1' : ''}${options.overwrite ? '&overwrite=1' : ''}`;
    await this.#ask('write', uri, { method: 'PUT', body: content as BodyInit }, how);
    this.#changes.fire([{ type: kinds.changed, resource: uri }]);
  }

  async mkdir(uri: URI): Promise<void> {
    await this.#ask('mkdir', uri, { method: 'PUT' });
  }

  async delete(uri: URI): Promise<void> {
    await this.#ask('delete', uri, { method: 'PUT' });
    this.#changes.fire([{ type: kinds.deleted, resource: uri }]);
  }

  async rename(from: URI, to: URI, options: { overwrite: boolean }): Promise<void> {
    await this.#ask(
      'rename',
      from,
      { method: 'PUT' },
      `&to=${encodeURIComponent(this.#within(to))}${options.overwrite ? '&overwrite=1' : ''}`,
    );
    this.#changes.fire([
      { type: kinds.deleted, resource: from },
      { type: kinds.added, resource: to },
    ]);
  }

  #within(uri: URI): string {
    if (uri.path !== this.#root && !uri.path.startsWith(`${this.#root}/`))
      throw createFileSystemProviderError('Outside the folder', FileSystemProviderErrorCode.FileNotFound);
    return uri.path.slice(this.#root.length) || '/';
  }

  async #ask(what: string, uri: URI, init: RequestInit = {}, more = ''): Promise<Response> {
    const answer = await fetch(`${this.#base}fs/${what}?path=${encodeURIComponent(this.#within(uri))}${more}`, init);
    if (answer.ok) return answer;
    throw createFileSystemProviderError(
      await answer.text(),
      codes[answer.status] ?? FileSystemProviderErrorCode.Unknown,
    );
  }
}
