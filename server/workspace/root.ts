import { type Document, openingDocument, type Range } from '#grammar/document.ts';
import type { Day } from '#grammar/statement.ts';
import { parseIso } from '#grammar/values/date.ts';
import { Answers } from '#server/engine/answers.ts';
import { factOf } from '#server/engine/facts.ts';
import { Log } from '#server/engine/log.ts';
import type { Host } from './host.ts';

/** A slice of reading on opening, so that the server is never deaf for long. */
const sliceMs = 20;

/** One log: the files of one folder, or a file that belongs to no folder. */
export class Root {
  readonly uri: string;
  readonly name: string;
  readonly log = new Log();
  /** Files whose text the editor holds, with its version. */
  readonly open = new Map<string, number>();
  /** The setting `graftlog.today`, if it names a day. */
  today: string | undefined;
  /** Its folder is still being read: nothing is told yet, as a batch may stand in a file to come. */
  loading = false;
  readonly #awaiting: (() => void)[] = [];
  /** Files that could not be read. */
  readonly unread = new Set<string>();
  #answers: Answers | undefined;
  readonly #host: Host;
  readonly #folder: boolean;

  constructor(uri: string, host: Host, folder: boolean) {
    this.uri = uri;
    this.name = decodeURIComponent(uri.replace(/\/+$/, '').split('/').at(-1) ?? uri);
    this.#host = host;
    this.#folder = folder;
  }

  /** Resolves once its folder has been read. */
  whenRead(): Promise<void> {
    return this.loading ? new Promise((done) => this.#awaiting.push(done)) : Promise.resolve();
  }

  doneReading(): void {
    this.loading = false;
    for (const done of this.#awaiting.splice(0)) done();
  }

  /** Path of a file relative to the root, with `/`. */
  fileOf(uri: string): string {
    return this.#folder ? decodeURIComponent(uri.slice(this.uri.length)).replace(/^\//, '') : this.name;
  }

  uriOf(file: string): string {
    return this.#folder ? `${this.uri}/${file.split('/').map(encodeURIComponent).join('/')}` : this.uri;
  }

  holds(uri: string): boolean {
    return this.#folder ? uri.startsWith(`${this.uri}/`) : uri === this.uri;
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
    if (this.#answers?.day !== day) this.#answers = new Answers(this.log, day);
    return this.#answers;
  }

  /** Takes a file's text in, slice by slice; `stale` tells that a newer text came meanwhile. */
  async read(file: string, text: string, stale: () => boolean = () => false): Promise<Document | undefined> {
    const reading = openingDocument(file, text);
    let started = this.#host.now();
    for (;;) {
      const step = reading.next();
      if (step.done) {
        const adding = this.log.addingDocument(step.value);
        for (;;) {
          const part = adding.next();
          if (part.done) {
            this.#answers?.apply(part.value);
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
    const change = this.log.applyEdit(file, range ?? whole, text);
    this.#answers?.apply(change);
  }

  remove(file: string): void {
    const change = this.log.removeFile(file);
    this.#answers?.apply(change);
  }

  async #breathe(started: number): Promise<number> {
    if (this.#host.now() - started < sliceMs) return started;
    await this.#host.pause();
    return this.#host.now();
  }
}
