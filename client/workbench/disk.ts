import { Emitter } from '@codingame/monaco-vscode-api/vscode/vs/base/common/event';
import { URI } from '@codingame/monaco-vscode-api/vscode/vs/base/common/uri';
import {
  createFileSystemProviderError,
  type FileChangeType,
  FileSystemProviderCapabilities,
  FileSystemProviderErrorCode,
  type FileType,
  type IFileChange,
  type IFileDeleteOptions,
  type IFileOverwriteOptions,
  type IFileSystemProviderWithFileReadWriteCapability,
  type IStat,
} from '@codingame/monaco-vscode-api/vscode/vs/platform/files/common/files';

const codes: Record<number, FileSystemProviderErrorCode> = {
  403: FileSystemProviderErrorCode.NoPermissions,
  404: FileSystemProviderErrorCode.FileNotFound,
  409: FileSystemProviderErrorCode.FileExists,
};

/** The folder on disk, reached through the local server: one request for each piece of work, changes told by it. */
export class Disk implements IFileSystemProviderWithFileReadWriteCapability {
  readonly capabilities =
    FileSystemProviderCapabilities.FileReadWrite | FileSystemProviderCapabilities.PathCaseSensitive;
  readonly #changes = new Emitter<readonly IFileChange[]>();
  readonly onDidChangeFile = this.#changes.event;
  readonly onDidChangeCapabilities = new Emitter<void>().event;
  /** Version of each file when it was last looked at; the workbench looks just before it writes and asks if it differs. */
  readonly #versions = new Map<string, string>();
  readonly #base: string;
  readonly #root: string;

  constructor(base: string, root: string) {
    this.#base = base;
    this.#root = root;
    new EventSource(`${base}events`).onmessage = (event) => {
      const changes = JSON.parse(event.data) as { type: FileChangeType; path: string }[];
      this.#changes.fire(changes.map(({ type, path }) => ({ type, resource: URI.file(root + path) })));
    };
  }

  watch() {
    return { dispose() {} };
  }

  async stat(uri: URI): Promise<IStat> {
    this.#versions.delete(uri.path);
    const { version, ...found } = (await (await this.#get('stat', uri)).json()) as IStat & { version: string };
    this.#versions.set(uri.path, version);
    return found;
  }

  async readdir(uri: URI): Promise<[string, FileType][]> {
    return (await this.#get('list', uri)).json();
  }

  async readFile(uri: URI): Promise<Uint8Array> {
    return new Uint8Array(await (await this.#get('read', uri)).arrayBuffer());
  }

  async writeFile(uri: URI, content: Uint8Array): Promise<void> {
    const version = this.#versions.get(uri.path);
    const headers: Record<string, string> = version === undefined ? { 'if-none-match': '*' } : { 'if-match': version };
    await this.#put('write', uri, {}, { headers, body: content as BodyInit });
  }

  async mkdir(uri: URI): Promise<void> {
    await this.#put('mkdir', uri);
  }

  async delete(uri: URI, options: IFileDeleteOptions): Promise<void> {
    await this.#put('delete', uri, options.recursive ? { contents: 'yes' } : {});
  }

  async rename(from: URI, to: URI, options: IFileOverwriteOptions): Promise<void> {
    await this.#put('rename', from, { to: this.#within(to), ...(options.overwrite ? { over: 'yes' } : {}) });
  }

  #get(work: string, uri: URI): Promise<Response> {
    return this.#ask(work, uri);
  }

  #put(work: string, uri: URI, more: Record<string, string> = {}, request: RequestInit = {}): Promise<Response> {
    return this.#ask(work, uri, more, { ...request, method: 'PUT' });
  }

  async #ask(work: string, uri: URI, more: Record<string, string> = {}, request: RequestInit = {}): Promise<Response> {
    const query = new URLSearchParams({ path: this.#within(uri), ...more });
    const answer = await fetch(`${this.#base}fs/${work}?${query}`, request);
    if (answer.ok) return answer;
    const code = codes[answer.status] ?? FileSystemProviderErrorCode.Unknown;
    throw createFileSystemProviderError(await answer.text(), code);
  }

  #within(uri: URI): string {
    if (uri.path === this.#root) return '/';
    if (uri.path.startsWith(`${this.#root}/`)) return uri.path.slice(this.#root.length);
    throw createFileSystemProviderError(
      'Outside the folder that was opened.',
      FileSystemProviderErrorCode.FileNotFound,
    );
  }
}
