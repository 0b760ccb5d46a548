import {
  type CancellationToken,
  LSPErrorCodes,
  ResponseError,
  type TextDocumentIdentifier,
} from 'vscode-languageserver';
import type { Host } from '#server/workspace/host.ts';
import type { Root } from '#server/workspace/root.ts';
import type { Workspace } from '#server/workspace/workspace.ts';
import type { FileView, Slices } from './feature.ts';

/** A request about one file, with what it asks. */
interface FileParams {
  readonly textDocument: TextDocumentIdentifier;
}
type Handler<P, T> = (params: P, token: CancellationToken) => Promise<T>;

/** A slice of a long answer, so that a key pressed meanwhile is read at once. */
const sliceMs = 20;

/**
 * How requests are answered: from the text as it stands. An answer nobody waits for any more is not worked out, and one
 * asked of a text that has changed since is refused, as its positions would mean other words.
 */
export class Asking {
  readonly workspace: Workspace;
  readonly #host: Host;
  readonly #theme: () => FileView['theme'];

  constructor(workspace: Workspace, host: Host, theme: () => FileView['theme']) {
    this.workspace = workspace;
    this.#host = host;
    this.#theme = theme;
  }

  /** Answers at once; `otherwise` where the file is no log of ours. */
  file<P extends FileParams, T>(otherwise: T, answer: (view: FileView, params: P) => T | Promise<T>): Handler<P, T> {
    return async (params, token) => {
      const view = await this.view(params.textDocument.uri, token);
      return view ? answer(view, params) : otherwise;
    };
  }

  /** Answers in slices: for what grows with the file. The answer yields where it may be put by, or what it waits for. */
  slices<P extends FileParams, T>(otherwise: T, answer: (view: FileView, params: P) => Slices<T>): Handler<P, T> {
    return async (params, token) => {
      const { uri } = params.textDocument;
      const view = await this.view(uri, token);
      if (!view) return otherwise;
      const version = this.#version(uri);
      const working = answer(view, params);
      for (let started = this.#host.now(); ; ) {
        const step = working.next();
        if (step.done) return step.value;
        if (!step.value && this.#host.now() - started < sliceMs) continue;
        await (step.value ?? this.#host.pause());
        this.#stillAsked(uri, version, token);
        started = this.#host.now();
      }
    };
  }

  /** One file of one log, once it has been taken in; nothing where it is no log of ours. */
  async view(uri: string, token?: CancellationToken): Promise<FileView | undefined> {
    const version = this.#version(uri);
    await this.workspace.settled(uri);
    this.#stillAsked(uri, version, token);
    const root = this.workspace.rootOf(uri);
    return root && this.viewIn(root, root.fileOf(uri));
  }

  viewIn(root: Root, file: string): FileView | undefined {
    const document = root.log.document(file);
    return document && { root, uri: root.uriOf(file), file, document, theme: this.#theme() };
  }

  #version(uri: string): number | undefined {
    const root = this.workspace.rootOf(uri);
    return root?.open.get(root.fileOf(uri));
  }

  #stillAsked(uri: string, version: number | undefined, token: CancellationToken | undefined): void {
    if (token?.isCancellationRequested)
      throw new ResponseError(LSPErrorCodes.RequestCancelled, 'Nobody waits for this answer any more.');
    if (this.#version(uri) !== version)
      throw new ResponseError(LSPErrorCodes.ContentModified, 'The text has changed since this was asked.');
  }
}
