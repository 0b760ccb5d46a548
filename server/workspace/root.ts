import { type Document, openingDocument, type Range } from '#grammar/document.ts';
import type { Day } from '#grammar/statement.ts';
import { parseIso } from '#grammar/values/date.ts';
import { Answers } from '#server/engine/answers.ts';
import { factOf } from '#server/engine/facts.ts';
import { Log, type LogChange } from '#server/engine/log.ts';
import { weatherPath } from '#server/engine/weather-path.ts';
import { addressIn, addressOf, pathIn } from './address.ts';
import type { Host } from './host.ts';
import { WeatherFiles } from './weather-files.ts';

/** A slice of reading on opening, so that the server is never deaf for long. */
const sliceMs = 20;
/** A path that is being typed names another file with each key: it is read when the hand rests. */
const restMs = 300;

/** One log: the files of one folder, or a file that belongs to no folder. */
export class Root {
  readonly uri: string;
  readonly name: string;
  readonly log = new Log();
  /** Files whose text the editor holds, with its version. */
  readonly open = new Map<string, number>();
  /** The setting `graftlog.today`, if it names a day. */
  today: string | undefined;
  /** The setting `graftlog.hours`: hours there are a week, if somebody said. */
  hours: number | undefined;
  /** Its folder is still being read: nothing is told yet, as a batch may stand in a file to come. */
  loading = false;
  /** Its first reading was stopped: it stays untold, and nobody waits for it. */
  stopped = false;
  readonly #awaiting: (() => void)[] = [];
  /** Files that could not be read. */
  readonly unread = new Set<string>();
  /** The files its `weather` lines name. */
  readonly weather: WeatherFiles;
  /** Called when weather files read otherwise than before. */
  onWeather: () => void = () => {};
  #notYet: (() => void) | undefined;
  #answers: Answers | undefined;
  readonly #host: Host;
  /** A folder; else one file that belongs to none. */
  readonly folder: boolean;
  /** The folder its paths lead from. */
  readonly #home: string;
  readonly #uris = new Map<string, string>();

  /** @param uri its address in the one spelling */
  constructor(uri: string, host: Host, folder: boolean) {
    this.uri = uri;
    // `untitled:Untitled-1` has no folder
    this.name = pathIn(uri.slice(0, Math.max(uri.lastIndexOf('/'), uri.indexOf(':')) + 1), uri);
    this.#host = host;
    this.folder = folder;
    this.#home = folder ? uri : uri.slice(0, uri.lastIndexOf('/') + 1).replace(/\/$/, '');
    this.weather = new WeatherFiles(
      host,
      () => this.log.all('weather'),
      (entry) => {
        const path = weatherPath(entry);
        return path === undefined ? undefined : { root: this.#home, uri: this.uriBeside(path) };
      },
    );
  }

  /** Resolves once its folder has been read. */
  whenRead(): Promise<void> {
    return this.loading && !this.stopped ? new Promise((done) => this.#awaiting.push(done)) : Promise.resolve();
  }

  doneReading(): void {
    this.loading = false;
    this.#letGo();
  }

  stopReading(): void {
    this.stopped = true;
    this.#letGo();
  }

  #letGo(): void {
    for (const done of this.#awaiting.splice(0)) done();
  }

  /** Path of a file relative to the root, with `/`. */
  fileOf(uri: string): string {
    return this.folder ? pathIn(this.uri, addressOf(uri)) : this.name;
  }

  uriOf(file: string): string {
    if (!this.folder) return this.uri;
    // asked for with each finding that is told
    const uri = this.#uris.get(file) ?? addressIn(this.uri, file);
    this.#uris.set(file, uri);
    return uri;
  }

  /** Of a file that a log names, by its path relative to the root. */
  uriBeside(path: string): string {
    return addressIn(this.#home, path);
  }

  holds(uri: string): boolean {
    const address = addressOf(uri);
    return this.folder ? address.startsWith(`${this.uri}/`) : address === this.uri;
  }

  /** The day computed for: the setting's, else today where the site is. */
  get day(): Day {
    const set = this.today ? parseIso(this.today) : undefined;
    if (set !== undefined) return set;
    const zone = factOf(this.log.site?.line.statement, 'tz')?.value;
    return this.#host.today(zone?.kind === 'text' ? zone.text : undefined);
  }

  /** What follows from the log on its day; made anew when the day has changed. */
  get answers(): Answers {
    const { day } = this;
    if (this.#answers?.day !== day) this.#answers = new Answers(this.log, day, this.weather.texts);
    return this.#answers;
  }

  /**
   * Takes a file's text in, slice by slice; `stale` tells that a newer text came meanwhile. The text that stands there
   * already, as of a file that is opened in a folder that was read, is not read again.
   */
  async read(file: string, text: string, stale: () => boolean = () => false): Promise<Document | undefined> {
    const known = this.log.document(file);
    if (known?.holds(text) && !this.log.isComing(file)) return known;
    const reading = openingDocument(file, text);
    let started = this.#host.now();
    for (;;) {
      const step = reading.next();
      if (step.done) {
        const adding = this.log.addingDocument(step.value);
        for (;;) {
          const part = adding.next();
          if (part.done) {
            this.#took(part.value);
            return step.value;
          }
          started = await this.#breathe(started);
        }
      }
      started = await this.#breathe(started);
      if (stale()) return undefined;
    }
  }

  edit(file: string, range: Range | undefined, text: string): void {
    const document = this.log.document(file);
    const whole = { start: { line: 0, character: 0 }, end: { line: document?.length ?? 0, character: 0 } };
    this.#took(this.log.applyEdit(file, range ?? whole, text));
  }

  remove(file: string): void {
    this.#took(this.log.removeFile(file));
  }

  #took(change: LogChange): void {
    this.#answers?.apply(change);
    if (!change.wide.has('weather')) return;
    this.#notYet?.();
    this.#notYet = this.#host.later(restMs, () => void this.readWeather());
  }

  /** What is named and not read yet. */
  async readWeather(): Promise<void> {
    this.#notYet?.();
    this.#notYet = undefined;
    if (await this.weather.read()) this.weatherRead();
  }

  /** Files have been read, or may be read now. */
  weatherRead(): void {
    this.#answers?.weatherRead();
    this.onWeather();
  }

  async #breathe(started: number): Promise<number> {
    if (this.#host.now() - started < sliceMs) return started;
    await this.#host.pause();
    return this.#host.now();
  }
}
