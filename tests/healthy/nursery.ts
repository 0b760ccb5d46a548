import type { Day } from '#grammar/statement.ts';
import type { Draw } from './draw.ts';
import { type Batch, type Fact, fact, type Line, type Place, type PlaceKind, type Season } from './model.ts';

/** What each kind of place gives, as its line says it. */
const gives: Readonly<Record<PlaceKind, readonly string[]>> = {
  frame: ['frost-free', 'shade', 'wind-break'],
  tent: ['heated', 'shade', 'wind-break', 'humid'],
  mist: ['frost-free', 'mist', 'shade'],
  garage: ['frost-free'],
  lath: ['shade', 'wind-break'],
  yard: [],
};
const names: Readonly<Record<PlaceKind, string>> = {
  frame: 'frame',
  tent: 'tent',
  mist: 'fog-house',
  garage: 'garage',
  lath: 'lath-house',
  yard: 'yard',
};
const people = ['mk', 'jo', 'ana', "O'Brien", 'Björn', 'mk,jo'];

/** A season in the making: what has a name, and who writes the lines. */
export class Nursery {
  readonly draw: Draw;
  readonly season: Season;
  #names = 0;

  constructor(draw: Draw, season: Season) {
    this.draw = draw;
    this.season = season;
  }

  get calendar() {
    return this.season.calendar;
  }

  name(letters: string): string {
    this.#names += 1;
    return `${letters}${this.#names}`;
  }

  add(line: Line): Line {
    this.season.lines.push(line);
    return line;
  }

  declare(verb: string, target: string, facts: readonly Fact[] = [], batch?: Batch): Line {
    return this.add({ verb, target, facts: [...facts], ...(batch ? { batch } : {}) });
  }

  /** Work on some grafts of a batch, or on all that live when numbers are left out. */
  work(verb: string, batch: Batch, day: Day, facts: readonly Fact[] = [], numbers?: readonly number[]): Line {
    const whole = batch.counted || (batch.undivided !== undefined && day >= batch.undivided);
    const target = whole ? batch.name : { batch, ...(numbers ? { numbers } : {}) };
    return this.add({ verb, day, target, facts: [...facts, ...this.#hand()], batch });
  }

  workAt(verb: string, target: string, day: Day, facts: readonly Fact[] = [], batch?: Batch): Line {
    return this.add({ verb, day, target, facts: [...facts], ...(batch ? { batch } : {}) });
  }

  look(batch: Batch, day: Day, numbers?: readonly number[]): void {
    const { draw } = this;
    const kind = draw.int(0, 5);
    if (kind === 0) this.work('water', batch, day, [], numbers);
    else if (kind === 1) this.work('check', batch, day, [fact('text', '"all quiet, lids closed"')], numbers);
    else this.work('check', batch, day, [fact(draw.pick(['plump', 'green', 'callus']))], numbers);
  }

  /** Looks from one day to before another, never so far apart that the log is silent. */
  looks(batch: Batch, from: Day, before: Day, apart: readonly [number, number] = [15, 45]): void {
    for (let day = from + this.draw.int(...apart); day < before; day += this.draw.int(...apart)) this.look(batch, day);
  }

  place(kind: PlaceKind, own: boolean): Place {
    const shared = this.season.places.find((place) => !place.own && place.kind === kind);
    if (shared && !own) return shared;
    const name = own ? this.name(`${names[kind]}-`) : names[kind];
    const line = this.declare(
      'place',
      name,
      gives[kind].map((flag) => fact(flag)),
    );
    const place = { name, kind, line, own };
    this.season.places.push(place);
    return place;
  }

  #hand(): Fact[] {
    return this.draw.chance(15) ? [fact('by', `by ${this.draw.pick(people)}`)] : [];
  }
}

/** Takes some flags off a place of its own and puts them on as cover before the day. */
export function coverLater(nursery: Nursery, place: Place, day: Day): void {
  const { draw } = nursery;
  const flags = place.line.facts.filter(({ key }) => ['frost-free', 'shade', 'wind-break'].includes(key));
  const later = flags.filter(() => draw.chance(40));
  if (later.length === 0) return;
  place.line.facts = place.line.facts.filter((one) => !later.includes(one));
  nursery.workAt('cover', place.name, day - draw.int(0, 20), later);
}
