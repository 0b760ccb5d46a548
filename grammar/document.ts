import { type Carry, carry, nothingCarried, sameCarry } from './carry.ts';
import type { Entry } from './entry.ts';
import { readLine } from './line.ts';

/** A place in a file: line and UTF-16 unit in it, both from 0. */
export interface Position {
  readonly line: number;
  readonly character: number;
}

export interface Range {
  readonly start: Position;
  readonly end: Position;
}

/** An entry whose line stayed and whose day, time or problems a line above changed. */
export interface Redated {
  readonly before: Entry;
  readonly after: Entry;
}

export interface DocumentEdit {
  readonly removed: readonly Entry[];
  readonly added: readonly Entry[];
  readonly redated: readonly Redated[];
}

type Ranked = { -readonly [K in keyof Entry]: Entry[K] };

/** Room between two ranks on opening, and what lines typed between two others take of it, one below the other. */
const wide = 2 ** 20;
const narrow = 2 ** 8;

/** Opens a file at once. */
export function openDocument(file: string, text: string): Document {
  const opening = openingDocument(file, text);
  for (;;) {
    const step = opening.next();
    if (step.done) return step.value;
  }
}

/** Opens a file piece by piece, so that a server can answer in between; yields the number of lines read so far. */
export function* openingDocument(file: string, text: string): Generator<number, Document> {
  const document = new Document(file);
  document.marked = text.startsWith('\uFEFF');
  const lines = splitLines(document.marked ? text.slice(1) : text);
  for (let i = 0; i < lines.length; i += 50) {
    document.append(lines.slice(i, i + 50));
    yield document.length;
  }
  return document;
}

export const splitLines = (text: string): string[] => text.split(/\r\n|\r|\n/);

/** The lines of one file, kept as lines: an edit reads only those it touches, and dates run down as far as they change. */
export class Document {
  readonly file: string;
  /** It began with a byte order mark. */
  marked = false;
  private lines: Ranked[] = [];
  private carried: Carry[] = [];

  constructor(file: string) {
    this.file = file;
  }

  get entries(): readonly Entry[] {
    return this.lines;
  }

  get length(): number {
    return this.lines.length;
  }

  entryAt(line: number): Entry | undefined {
    return this.lines[line];
  }

  /** Line number from 0; -1 for an entry that no longer stands here. */
  lineOf(entry: Entry): number {
    const at = this.firstFrom(entry.rank);
    return this.lines[at] === entry ? at : -1;
  }

  /** The text with `\n` between lines, without a byte order mark. */
  text(): string {
    return this.lines.map((entry) => entry.line.text).join('\n');
  }

  /** Whether it is this text, whatever its line ends. */
  holds(text: string): boolean {
    const marked = text.startsWith('\uFEFF');
    const bare = marked ? text.slice(1) : text;
    return marked === this.marked && (bare.includes('\r') ? splitLines(bare).join('\n') : bare) === this.text();
  }

  append(texts: readonly string[]): void {
    let above = this.carried.at(-1) ?? nothingCarried;
    let rank = this.lines.at(-1)?.rank ?? 0;
    for (const text of texts) {
      rank += wide;
      const line = readLine(text);
      const dated = carry(line, above);
      above = dated.after;
      this.lines.push(entryOf(line, this.file, rank, dated));
      this.carried.push(above);
    }
  }

  /** Replaces the text of a range; positions outside the file mean its nearest end. */
  edit(range: Range, text: string): DocumentEdit {
    const [first, firstCharacter] = this.clamp(range.start);
    const [last, lastCharacter] = this.clamp(range.end);
    const head = this.lines[first]?.line.text.slice(0, firstCharacter) ?? '';
    const tail = this.lines[last]?.line.text.slice(lastCharacter) ?? '';
    const texts = splitLines(head + text + tail);
    let from = first;
    let to = last + 1;
    let begin = 0;
    let end = texts.length;
    // a line whose text stayed (Enter at the end of a line) stays itself
    while (from < to && begin < end && this.lines[from]?.line.text === texts[begin])
      [from, begin] = [from + 1, begin + 1];
    while (to > from && end > begin && this.lines[to - 1]?.line.text === texts[end - 1]) [to, end] = [to - 1, end - 1];
    return this.replace(from, to, texts.slice(begin, end));
  }

  private replace(from: number, to: number, texts: readonly string[]): DocumentEdit {
    if (from === to && texts.length === 0) return { removed: [], added: [], redated: [] };
    const ranks = this.ranksBetween(from, to, texts.length);
    const removed = this.lines.slice(from, to);
    const added: Ranked[] = [];
    const carried: Carry[] = [];
    let above = this.carried[from - 1] ?? nothingCarried;
    texts.forEach((text, i) => {
      const line = readLine(text);
      const dated = carry(line, above);
      above = dated.after;
      added.push(entryOf(line, this.file, ranks[i] as number, dated));
      carried.push(above);
    });
    this.lines = spliced(this.lines, from, to, added);
    this.carried = spliced(this.carried, from, to, carried);
    return { removed, added, redated: this.carryDown(from + added.length, above) };
  }

  /** Dates from a line on, until what is carried down is what it was. */
  private carryDown(from: number, start: Carry): Redated[] {
    const redated: Redated[] = [];
    let above = start;
    for (let i = from; i < this.lines.length; i++) {
      const before = this.lines[i] as Ranked;
      const dated = carry(before.line, above);
      if (before.day !== dated.day || before.minute !== dated.minute || !sameProblems(before, dated)) {
        const after = entryOf(before.line, this.file, before.rank, dated);
        this.lines[i] = after;
        redated.push({ before, after });
      }
      if (sameCarry(dated.after, this.carried[i] as Carry)) break;
      this.carried[i] = dated.after;
      above = dated.after;
    }
    return redated;
  }

  private ranksBetween(from: number, to: number, count: number): number[] {
    for (const again of [false, true]) {
      if (again) this.rerank(count);
      const low = this.lines[from - 1]?.rank ?? 0;
      const high = this.lines[to]?.rank ?? low + wide * (count + 1);
      const step = to >= this.lines.length ? wide : Math.min(narrow, (high - low) / (count + 1));
      const ranks = Array.from({ length: count }, (_, i) => low + step * (i + 1));
      if (ranks.every((rank, i) => rank > (ranks[i - 1] ?? low) && rank < high)) return ranks;
    }
    return [];
  }

  /** New ranks in place: the order stays, so whatever is sorted by them stays sorted. */
  private rerank(room: number): void {
    const step = wide * Math.max(1, Math.ceil(room / 2 ** 12));
    for (let i = 0; i < this.lines.length; i++) (this.lines[i] as Ranked).rank = step * (i + 1);
  }

  private clamp(position: Position): [line: number, character: number] {
    const last = this.lines.length - 1;
    if (position.line > last) return [last, this.lines[last]?.line.text.length ?? 0];
    if (position.line < 0) return [0, 0];
    return [position.line, Math.max(0, Math.min(position.character, this.lines[position.line]?.line.text.length ?? 0))];
  }

  private firstFrom(rank: number): number {
    let [low, high] = [0, this.lines.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((this.lines[middle] as Ranked).rank < rank) low = middle + 1;
      else high = middle;
    }
    return low;
  }
}

/** Items `from` up to `to` replaced. In place where it can be: a line typed into a long file moves nothing else. */
function spliced<T>(items: T[], from: number, to: number, by: readonly T[]): T[] {
  if (by.length > 10_000) return items.slice(0, from).concat(by, items.slice(to));
  if (by.length === to - from) {
    for (let i = 0; i < by.length; i++) items[from + i] = by[i] as T;
  } else items.splice(from, to - from, ...by);
  return items;
}

function entryOf(line: Entry['line'], file: string, rank: number, dated: ReturnType<typeof carry>): Ranked {
  const { day, minute, problems } = dated;
  if (day === undefined) return problems ? { line, file, rank, minute, problems } : { line, file, rank, minute };
  return problems ? { line, file, rank, day, minute, problems } : { line, file, rank, day, minute };
}

function sameProblems(a: Pick<Entry, 'problems'>, b: Pick<Entry, 'problems'>): boolean {
  return a.problems?.[0]?.message === b.problems?.[0]?.message;
}
