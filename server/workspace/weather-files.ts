import type { Entry } from '#server/engine/model.ts';
import { largest, type WeatherText, type WeatherTexts } from '#server/engine/station-lines.ts';
import { addressOf } from './address.ts';
import type { Host } from './host.ts';

/** Where a `weather` line's file lies: both URIs. */
export interface NamedPlace {
  readonly root: string;
  readonly uri: string;
}

/** The files that a log's `weather` lines name: read once each, and again when something outside says they changed. */
export class WeatherFiles {
  /** Files named in a log stay unread in a folder that nobody has vouched for. */
  trusted = true;
  readonly #host: Pick<Host, 'readNamed'>;
  readonly #entries: () => readonly Entry[];
  readonly #placeOf: (entry: Entry) => NamedPlace | undefined;
  readonly #held = new Map<string, WeatherText>();
  /** The newest reading of each file: an older one that ends later is dropped. */
  readonly #newest = new Map<string, object>();

  /** @param placeOf nothing on a line that names no file a log may name */
  constructor(
    host: Pick<Host, 'readNamed'>,
    entries: () => readonly Entry[],
    placeOf: (entry: Entry) => NamedPlace | undefined,
  ) {
    this.#host = host;
    this.#entries = entries;
    this.#placeOf = placeOf;
  }

  readonly texts: WeatherTexts = (entry) => {
    if (!this.trusted) return untrusted;
    const place = this.#placeOf(entry);
    return place && this.#held.get(keyOf(place));
  };

  /** URIs of all files that are named now, whether they are there or not. */
  get uris(): readonly string[] {
    return [...this.#named().values()].map(({ uri }) => uri);
  }

  /** Reads what is named and wasn't read yet, and lets go what is no more named; tells whether there is another text. */
  async read(): Promise<boolean> {
    let changed = false;
    while (this.trusted) {
      const named = this.#named();
      this.#letGo(named);
      const next = [...named].find(([key]) => !this.#held.has(key));
      if (!next) break;
      changed = (await this.#readOne(...next)) || changed;
    }
    return changed;
  }

  /**
   * A file came, changed or went, or where nobody tells of changes any of them may have; tells whether one of the log's
   * reads otherwise than before.
   */
  async changed(uri?: string): Promise<boolean> {
    let changed = false;
    const named = this.#named();
    // what nobody names now may be named again, and reads otherwise by then
    this.#letGo(named);
    for (const [key, place] of named)
      if (this.trusted && (uri === undefined || addressOf(place.uri) === addressOf(uri)))
        changed = (await this.#readOne(key, place)) || changed;
    return changed;
  }

  #letGo(named: ReadonlyMap<string, NamedPlace>): void {
    for (const key of this.#held.keys()) if (!named.has(key)) this.#held.delete(key);
  }

  #named(): Map<string, NamedPlace> {
    const named = new Map<string, NamedPlace>();
    for (const entry of this.#entries()) {
      const place = this.#placeOf(entry);
      if (place) named.set(keyOf(place), place);
    }
    return named;
  }

  async #readOne(key: string, { root, uri }: NamedPlace): Promise<boolean> {
    const reading = {};
    this.#newest.set(key, reading);
    const others = [...this.#held].reduce((sum, [other, held]) => sum + (other === key ? 0 : sizeOf(held)), 0);
    const most = Math.max(0, Math.min(largest.file, largest.all - others));
    const found = await this.#host.readNamed(root, uri, most).catch(() => unreadable);
    if (this.#newest.get(key) !== reading) return false;
    this.#newest.delete(key);
    // a text has no NUL: what has is a picture, a spreadsheet, a program
    const file = 'text' in found && found.text.includes('\0') ? unreadable : found;
    const before = this.#held.get(key);
    // the same object stands for the same text: it is taken apart once
    if (before && same(before, file)) return false;
    this.#held.set(key, file);
    return true;
  }
}

const untrusted: WeatherText = { unread: 'untrusted' };
const unreadable: WeatherText = { unread: 'unreadable' };

const sizeOf = (file: WeatherText): number => ('text' in file ? file.text.length : 0);

const same = (a: WeatherText, b: WeatherText): boolean =>
  'text' in a ? 'text' in b && a.text === b.text : 'unread' in b && a.unread === b.unread;

const keyOf = ({ root, uri }: NamedPlace): string => `${root}\n${uri}`;
