import type { Day } from '#grammar/statement.ts';
import { isoDay } from '#grammar/values/date.ts';
import type { Draw } from './draw.ts';
import { type Batch, type Line, livingOn, type Season } from './model.ts';

/** Files by name, and where each line stands in them, counted from 0. */
export interface Written {
  readonly files: Readonly<Record<string, string>>;
  readonly at: ReadonlyMap<Line, { readonly file: string; readonly line: number }>;
}

/** How one hand writes. */
interface Hand {
  readonly gap: string;
  readonly comma: boolean;
  readonly dash: boolean;
  readonly capitals: boolean;
  /** The hour all work of a day begins, where it is noted. */
  readonly hour: string;
  /** The other country's words and past forms, read in silence. */
  readonly otherWords: boolean;
  readonly remarks: boolean;
  readonly ends: string;
}

/** A season as the text of its files: day lines and dated lines, ranges and exceptions, declarations above or below. */
export function write(draw: Draw, season: Season): Written {
  const hand: Hand = {
    ...{ gap: draw.pick(['  ', ' ', '\t', '   ']), comma: draw.chance(15), dash: draw.chance(25) },
    ...{ hour: draw.chance(10) ? ' 8:30' : '', otherWords: draw.chance(15) },
    ...{ capitals: draw.chance(15), remarks: draw.chance(30), ends: draw.chance(10) ? '\r\n' : '\n' },
  };
  const declared = season.lines.filter((line) => line.day === undefined);
  const days = new Map<Day, Line[]>();
  for (const line of season.lines) {
    if (line.day === undefined) continue;
    const there = days.get(line.day);
    if (there) there.push(line);
    else days.set(line.day, [line]);
  }
  const sorted = [...days.keys()].sort((a, b) => a - b);
  const apart = draw.chance(25);
  const split = draw.int(0, sorted.length);
  const pages = new Map<string, Page>();
  const page = (name: string): Page => {
    const known = pages.get(name) ?? new Page(draw, hand);
    pages.set(name, known);
    return known;
  };
  const below = draw.chance(15) && !season.declaredFirst;
  const declare = (): void => {
    for (const line of declared.filter(({ top }) => !top)) page(apart ? 'nursery.graft' : '1.graft').declare(line);
  };
  for (const line of declared.filter(({ top }) => top)) page('1.graft').declare(line);
  if (!below) declare();
  sorted.forEach((day, index) => {
    const name = apart && index >= split ? '2.graft' : '1.graft';
    page(name).day(day, days.get(day) ?? []);
  });
  if (below) declare();
  const files = Object.fromEntries([...pages].map(([name, { rows }]) => [name, rows.join(hand.ends) + hand.ends]));
  const at = new Map(
    [...pages].flatMap(([file, { places }]) => [...places].map(([line, row]) => [line, { file, line: row }])),
  );
  return { files, at };
}

const factsOf = (line: Line): string => line.facts.map(({ text }) => text).join(' ');
const others: Readonly<Record<string, readonly string[]>> = {
  open: ['opened', 'vent', 'unwrap'],
  take: ['taken', 'took'],
  fail: ['failed', 'died', 'lose'],
  sell: ['sold', 'give'],
  move: ['moved', 'store'],
  retie: ['rebind'],
  untie: ['untied', 'release'],
  graft: ['grafted'],
  check: ['checked', 'note', 'looked'],
  headback: ['head-back', 'cutback'],
};

class Page {
  readonly rows: string[] = [];
  readonly places = new Map<Line, number>();
  /** What each row is about, as it is written there. */
  readonly #targets = new Map<number, string>();
  readonly #draw: Draw;
  readonly #hand: Hand;
  #carried: Day | undefined;

  constructor(draw: Draw, hand: Hand) {
    this.#draw = draw;
    this.#hand = hand;
  }

  declare(line: Line): void {
    this.#row(line, line.raw ?? this.#text(line));
  }

  day(day: Day, lines: readonly Line[]): void {
    const dated = this.#draw.chance(40);
    const date = isoDay(day) + this.#hand.hour;
    lines.forEach((line, index) => {
      const before = lines[index - 1];
      if (line.raw !== undefined) this.#row(line, line.raw);
      else if (before && this.#joins(before, line)) return;
      else if (dated) this.#row(line, `${date}${this.#hand.gap}${this.#text(line)}`);
      else {
        if (this.#carried !== day) this.rows.push(...(this.#draw.chance(50) ? [''] : []), date);
        this.#carried = day;
        this.#row(line, this.#text(line));
      }
    });
  }

  /** The same work on two batches in a row may be one line: `check K1 B2 green`. */
  #joins(before: Line, line: Line): boolean {
    const row = this.places.get(before);
    const same = before.verb === line.verb && before.batch !== line.batch && factsOf(before) === factsOf(line);
    const sets = [before, line].every(({ target, verb }) => typeof target !== 'string' && verb !== 'graft');
    const bare = !line.facts.some(({ key }) => key === 'count' || key === 'rest');
    if (row === undefined || !same || !sets || !bare || before.raw !== undefined || this.#draw.chance(50)) return false;
    const text = this.rows[row] ?? '';
    const first = this.#targets.get(row);
    if (first === undefined) return false;
    const target = this.#target(line);
    this.rows[row] = text.replace(first, () => `${first}${this.#hand.gap}${target}`);
    this.#targets.set(row, `${first}${this.#hand.gap}${target}`);
    this.places.set(line, row);
    return true;
  }

  #target(line: Line): string {
    return typeof line.target === 'string' ? line.target : this.#set(line, line.target);
  }

  #row(line: Line, text: string): void {
    const remark = this.#hand.remarks && line.raw === undefined && this.#draw.chance(20);
    this.places.set(line, this.rows.length);
    this.rows.push(remark ? `${text}   # ${this.#draw.pick(['tray 3', 'rain', "jo's bench", '"late"'])}` : text);
  }

  #text(line: Line): string {
    const { gap, comma, capitals, otherWords } = this.#hand;
    const said = otherWords ? this.#draw.pick([line.verb, ...(others[line.verb] ?? [])]) : line.verb;
    const verb = capitals ? said.charAt(0).toUpperCase() + said.slice(1) : said;
    const target = this.#target(line);
    this.#targets.set(this.rows.length, target);
    const join = comma ? ', ' : gap;
    const facts = line.facts.map(({ text }) => text).join(join);
    return [verb, target, facts].filter((part) => part !== '').join(gap);
  }

  #set({ verb, day = 0 }: Line, { batch, numbers: meant }: Exclude<Line['target'], string>): string {
    const { dash } = this.#hand;
    const numbers = verb === 'fail' ? meant : meant?.filter((number) => (batch.lost.get(number) ?? day + 1) > day);
    const named = (list: readonly number[]): string => `${batch.name}.${rangesText(list, dash ? '-' : '..')}`;
    const living = livingOn(batch, day);
    const sameDay = [...batch.lost.values()].includes(day);
    if (!numbers) return sameDay || living.length === 0 || this.#draw.chance(70) ? batch.name : named(living);
    if (sameDay || this.#draw.chance(50)) return named(numbers);
    if (numbers.length === living.length && !makes(batch, day)) return batch.name;
    const rest = living.filter((number) => !numbers.includes(number));
    return rest.length > 0 && rest.length < numbers.length && !makes(batch, day)
      ? `${batch.name} except ${named(rest)}`
      : named(numbers);
  }
}

/** On a day of grafting, lines name their numbers. */
const makes = (batch: Batch, day: Day): boolean => day <= batch.last;

/** `1..8,12`. */
export function rangesText(numbers: readonly number[], to = '..'): string {
  const parts: string[] = [];
  for (let at = 0; at < numbers.length; ) {
    let end = at;
    while (end + 1 < numbers.length && numbers[end + 1] === (numbers[end] ?? 0) + 1) end += 1;
    parts.push(end > at ? `${numbers[at]}${to}${numbers[end]}` : `${numbers[at]}`);
    at = end + 1;
  }
  return parts.join(',');
}
