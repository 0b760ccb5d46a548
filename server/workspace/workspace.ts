import type { Range } from '#grammar/document.ts';
import type { Host } from './host.ts';
import { Root } from './root.ts';

export interface TextChange {
  readonly range?: Range;
  readonly text: string;
}

interface Reading {
  readonly typed: TextChange[];
  done: Promise<unknown>;
}

/** All that changes: roots, their files, and the texts the editor holds. Everything else is computed from it. */
export class Workspace {
  readonly #host: Host;
  readonly #roots = new Map<string, Root>();
  /** Newest text the editor gave for a file, counted: a reading that is overtaken is dropped. */
  readonly #opened = new Map<string, number>();
  /** Files being taken in slice by slice, and what is typed in them meanwhile. */
  readonly #reading = new Map<string, Reading>();
  /** Called when a folder was read, or the files outside the editor changed. */
  onRead: (root: Root) => void = () => {};
  #trusted = true;

  constructor(host: Host) {
    this.#host = host;
  }

  get roots(): readonly Root[] {
    return [...this.#roots.values()];
  }

  /** Makes a folder known before it is read, so that a file opened meanwhile belongs to it. */
  announceFolder(uri: string): Root {
    const key = uri.replace(/\/+$/, '');
    const known = this.#roots.get(key);
    if (known) return known;
    const root = this.#newRoot(key, true);
    root.loading = true;
    this.#roots.set(key, root);
    return root;
  }

  #newRoot(uri: string, folder: boolean): Root {
    const root = new Root(uri, this.#host, folder);
    root.weather.trusted = this.#trusted;
    root.onWeather = () => this.onRead(root);
    return root;
  }

  /** Whether somebody vouched for what is open: files named in a log stay unread before that. */
  async trust(trusted: boolean): Promise<void> {
    this.#trusted = trusted;
    for (const root of this.roots) {
      root.weather.trusted = trusted;
      await root.weather.read();
      root.weatherRead();
    }
  }

  /** Reads a folder's logs; files the editor holds stay as they are there. */
  async readFolder(root: Root): Promise<void> {
    // a file that was opened before its folder was known belongs to the folder's log from now on
    for (const loose of this.roots.filter((other) => other !== root && root.holds(other.uri))) {
      const text = loose.log.document(loose.name)?.text() ?? '';
      const version = loose.open.get(loose.name) ?? 0;
      this.#roots.delete(loose.uri);
      root.open.set(root.fileOf(loose.uri), version);
      await root.read(root.fileOf(loose.uri), text);
    }
    try {
      for (const file of await this.#host.list(root.uri)) await this.#readFromDisk(root, file);
      await root.readWeather();
    } finally {
      // a folder that can't be listed is no reason to keep what is open in it waiting
      root.doneReading();
      if (this.#roots.get(root.uri) === root) this.onRead(root);
    }
  }

  removeFolder(uri: string): Root | undefined {
    const key = uri.replace(/\/+$/, '');
    const root = this.#roots.get(key);
    this.#roots.delete(key);
    return root;
  }

  /** The log a file belongs to; a file outside every folder is a log of its own. */
  rootOf(uri: string): Root | undefined {
    const holding = this.roots.filter((root) => root.holds(uri));
    return holding.sort((a, b) => b.uri.length - a.uri.length)[0];
  }

  async openText(uri: string, version: number, text: string): Promise<Root | undefined> {
    const count = (this.#opened.get(uri) ?? 0) + 1;
    this.#opened.set(uri, count);
    let root = this.rootOf(uri);
    if (!root) {
      root = this.#newRoot(uri, false);
      this.#roots.set(uri, root);
    }
    const file = root.fileOf(uri);
    root.open.set(file, version);
    const stale = () => this.#opened.get(uri) !== count;
    const reading: Reading = { typed: [], done: Promise.resolve() };
    const read = root.read(file, text, stale).then((document) => {
      if (this.#reading.get(uri) === reading) this.#reading.delete(uri);
      if (document) for (const change of reading.typed) root.edit(file, change.range, change.text);
      return document ? root : undefined;
    });
    reading.done = read;
    this.#reading.set(uri, reading);
    return read;
  }

  /** Resolves when a file that is being taken in has been, with all that was typed meanwhile. */
  async settled(uri: string): Promise<void> {
    await this.#reading.get(uri)?.done;
  }

  /** Changes in the order given; a change for a text that was never opened is left aside. */
  changeText(uri: string, version: number, changes: readonly TextChange[]): Root | undefined {
    const root = this.rootOf(uri);
    const file = root?.fileOf(uri);
    if (!root || file === undefined || !root.open.has(file)) return undefined;
    root.open.set(file, version);
    const reading = this.#reading.get(uri);
    if (reading) {
      reading.typed.push(...changes);
      return undefined;
    }
    for (const change of changes) root.edit(file, change.range, change.text);
    return root;
  }

  /** What was typed and not saved is gone with the editor: the file on disk holds again. */
  async closeText(uri: string): Promise<Root | undefined> {
    const root = this.rootOf(uri);
    if (!root) return undefined;
    root.open.delete(root.fileOf(uri));
    this.#opened.set(uri, (this.#opened.get(uri) ?? 0) + 1);
    this.#reading.delete(uri);
    if (root.uri === uri) this.#roots.delete(uri);
    else await this.#readFromDisk(root, uri);
    return root;
  }

  /** A log, or a file that one names, came, changed or went outside the editor. */
  async fileChanged(uri: string): Promise<Root | undefined> {
    for (const root of this.roots) if (await root.weather.changed(uri)) root.weatherRead();
    const root = this.rootOf(uri);
    if (!root || !uri.endsWith('.graft') || root.uri === uri || root.open.has(root.fileOf(uri))) return undefined;
    await this.#readFromDisk(root, uri);
    return root;
  }

  async #readFromDisk(root: Root, uri: string): Promise<void> {
    const file = root.fileOf(uri);
    if (root.open.has(file)) return;
    const text = await this.#host.read(uri);
    if (root.open.has(file)) return;
    root.unread.delete(file);
    if (text === undefined) {
      root.remove(file);
      return;
    }
    if (root.log.document(file)?.text() !== text) await root.read(file, text, () => root.open.has(file));
  }
}
