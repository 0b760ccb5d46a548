import type { Range } from '#grammar/document.ts';
import { addressOf } from './address.ts';
import type { Host } from './host.ts';
import { Root } from './root.ts';

export interface TextChange {
  readonly range?: Range;
  readonly text: string;
}

/** Looks on while a folder is read: how far it is, and whether it is to stop. */
export interface ReadingWatch {
  reading(done: number, total: number): void;
  stopped(): boolean;
}
const unwatched: ReadingWatch = { reading: () => {}, stopped: () => false };

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
    const key = folderAddress(uri);
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

  /**
   * Reads a folder's logs; files the editor holds stay as they are there. Reading that is stopped leaves the log untold,
   * as half a log would be full of findings that aren't true, until it is read again.
   */
  async readFolder(root: Root, watch: ReadingWatch = unwatched): Promise<void> {
    root.stopped = false;
    const others = this.roots.filter((other) => other !== root);
    for (const other of others) await this.#handOver(other, root);
    let stopped = false;
    try {
      const files = (await this.#host.list(root.uri)).filter((file) => this.rootOf(file) === root);
      for (const [count, file] of files.entries()) {
        stopped = watch.stopped();
        if (stopped || this.#roots.get(root.uri) !== root) break;
        watch.reading(count, files.length);
        if (!(await this.#readFromDisk(root, file))) root.unread.add(root.fileOf(file));
      }
      if (!stopped) await root.readWeather();
    } finally {
      // a folder that can't be listed is no reason to keep what is open in it waiting
      if (stopped) root.stopReading();
      else root.doneReading();
      if (this.#roots.get(root.uri) === root) this.onRead(root);
      for (const other of others) if (other.folder && other.holds(root.uri)) this.onRead(other);
    }
  }

  /** What a newly known root takes from another: a file that was open by itself, or all of its folder in a wider one. */
  async #handOver(from: Root, to: Root): Promise<void> {
    for (const file of [...from.log.fileNames]) {
      const uri = from.uriOf(file);
      if (!to.holds(uri) || (from.folder && this.rootOf(uri) !== to)) continue;
      await this.#moveText(uri, from, to);
      if (from.folder) from.remove(file);
      else this.#roots.delete(from.uri);
    }
  }

  async #moveText(uri: string, from: Root, to: Root): Promise<void> {
    await this.settled(uri);
    const file = from.fileOf(uri);
    const version = from.open.get(file);
    const document = from.log.document(file);
    if (version === undefined || !document) return;
    from.open.delete(file);
    to.open.set(to.fileOf(uri), version);
    await to.read(to.fileOf(uri), document.text());
  }

  /** Forgets a folder. Texts that are still open in it stand alone from now on, or belong to the folder around it. */
  async removeFolder(uri: string): Promise<{ readonly gone: Root; readonly heirs: readonly Root[] } | undefined> {
    const gone = this.#roots.get(folderAddress(uri));
    if (!gone) return undefined;
    this.#roots.delete(gone.uri);
    const heirs = new Set<Root>();
    for (const file of gone.log.fileNames) {
      const at = gone.uriOf(file);
      const around = this.rootOf(at);
      if (around && !gone.open.has(file)) await this.#readFromDisk(around, at);
      else if (gone.open.has(file)) await this.#moveText(at, gone, around ?? this.#alone(at, gone.today));
      const heir = this.rootOf(at);
      if (heir) heirs.add(heir);
    }
    return { gone, heirs: [...heirs] };
  }

  #alone(uri: string, today?: string): Root {
    const root = this.#newRoot(addressOf(uri), false);
    root.today = today;
    this.#roots.set(root.uri, root);
    return root;
  }

  /** The log a file belongs to; a file outside every folder is a log of its own. */
  rootOf(uri: string): Root | undefined {
    const holding = this.roots.filter((root) => root.holds(uri));
    return holding.sort((a, b) => b.uri.length - a.uri.length)[0];
  }

  async openText(spelled: string, version: number, text: string): Promise<Root | undefined> {
    const uri = addressOf(spelled);
    const count = (this.#opened.get(uri) ?? 0) + 1;
    this.#opened.set(uri, count);
    const root = this.rootOf(uri) ?? this.#alone(uri);
    const file = root.fileOf(uri);
    root.open.set(file, version);
    const stale = () => this.#opened.get(uri) !== count;
    // a text that is half taken in is taken in to its end: the next one waits, or the older would stand at last
    const earlier = this.#reading.get(uri)?.done;
    const reading: Reading = { typed: [], done: Promise.resolve() };
    const take = async () => {
      if (earlier) await earlier;
      const document = stale() ? undefined : await root.read(file, text, stale);
      if (this.#reading.get(uri) === reading) this.#reading.delete(uri);
      if (!document || stale()) return undefined;
      for (const change of reading.typed) root.edit(file, change.range, change.text);
      return root;
    };
    this.#reading.set(uri, reading);
    const read = take();
    reading.done = read;
    return read;
  }

  /** Resolves when a file that is being taken in has been, with all that was typed meanwhile. */
  async settled(uri: string): Promise<void> {
    await this.#reading.get(addressOf(uri))?.done;
  }

  /** Changes in the order given; a change for a text that was never opened is left aside. */
  changeText(uri: string, version: number, changes: readonly TextChange[]): Root | undefined {
    const root = this.rootOf(uri);
    const file = root?.fileOf(uri);
    if (!root || file === undefined || !root.open.has(file)) return undefined;
    root.open.set(file, version);
    const reading = this.#reading.get(addressOf(uri));
    if (reading) {
      for (const change of changes) reading.typed.push(change);
      return undefined;
    }
    for (const change of changes) root.edit(file, change.range, change.text);
    return root;
  }

  /** What was typed and not saved is gone with the editor: the file on disk holds again. */
  async closeText(spelled: string): Promise<Root | undefined> {
    const uri = addressOf(spelled);
    const root = this.rootOf(uri);
    if (!root) return undefined;
    root.open.delete(root.fileOf(uri));
    this.#opened.set(uri, (this.#opened.get(uri) ?? 0) + 1);
    // what is half taken in is not what lies on the disk, and ends first
    await this.#reading.get(uri)?.done;
    if (root.open.has(root.fileOf(uri))) return root;
    if (root.uri === uri) this.#roots.delete(uri);
    else await this.#readFromDisk(root, uri);
    return root;
  }

  /** A log was saved in an editor that tells of no changes: time to look at the files it names. */
  async saved(uri: string): Promise<void> {
    const root = this.rootOf(uri);
    if (root && (await root.weather.changed())) root.weatherRead();
  }

  /** A log, or a file that one names, came, changed or went outside the editor. */
  async fileChanged(spelled: string): Promise<Root | undefined> {
    const uri = addressOf(spelled);
    for (const root of this.roots) if (await root.weather.changed(uri)) root.weatherRead();
    const root = this.rootOf(uri);
    if (!root || !uri.endsWith('.graft') || root.uri === uri || root.open.has(root.fileOf(uri))) return undefined;
    await this.#readFromDisk(root, uri);
    return root;
  }

  /** Takes a file in as it lies on the disk, unless the editor holds it; says whether it could be read. */
  async #readFromDisk(root: Root, uri: string): Promise<boolean> {
    const file = root.fileOf(uri);
    if (root.open.has(file)) return true;
    const text = await this.#host.read(uri);
    if (root.open.has(file)) return true;
    root.unread.delete(file);
    if (text === undefined) root.remove(file);
    else await root.read(file, text, () => root.open.has(file));
    return text !== undefined;
  }
}

const folderAddress = (uri: string): string => addressOf(uri.replace(/\/+$/, ''));
