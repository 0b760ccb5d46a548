import type { Day } from '#grammar/statement.ts';
import { firstFrom } from '#server/weather/degree-days.ts';
import { frostDate } from '#server/weather/frost-dates.ts';
import { type Daily, learnedOffset, type Offset } from '#server/weather/minima.ts';
import type { StationDay } from '#server/weather/station.ts';
import { type PlaceWeather, placeWeather, type Source } from '#server/weather/weather.ts';
import type { CheckWeather, Told } from './checks/case.ts';
import { type PlaceReading, placeLinesOf } from './checks/place-lines.ts';
import { degrees } from './checks/words.ts';
import { latitudeOf, placeCover } from './cover.ts';
import { factOf } from './facts.ts';
import type { Histories } from './histories.ts';
import type { Log, LogChange } from './log.ts';
import type { Cohort, Entry, Finding } from './model.ts';
import { isSouth } from './practice-year.ts';
import { countText } from './say.ts';
import { type StationLine, stationLines, type WeatherTexts } from './station-lines.ts';
import { Swellings } from './swellings.ts';
import type { FrostDates } from './year.ts';

/** A station as a place has it, and what was learned while the place was covered, of which nothing follows for a bare night. */
export interface PlaceSource extends Source {
  readonly line: StationLine;
  readonly covered: { readonly min?: Offset; readonly max?: Offset };
}

/** What stations tell of a place, and how it is known. */
export interface Climate {
  readonly sources: readonly PlaceSource[];
  readonly weather: PlaceWeather;
  readonly south: boolean;
  readonly frostDates: FrostDates;
}

interface Known extends Climate {
  readonly readings: readonly PlaceReading[];
}

/** What an edit made different: places with other figures, pairs with other swellings on record. */
export interface WeatherChange {
  readonly places: ReadonlySet<string>;
  readonly pairs: ReadonlySet<string>;
}

/**
 * The weather of a log's places, from the files its `weather` lines name. A line with `in` is that place's; one without
 * is the nursery's. A place's own readings tell how much warmer it is than a station; where neither they nor the line
 * do, a station's nights are not claimed for it, only its calendar. Made anew when a `weather` line changes.
 */
export class LogWeather implements CheckWeather {
  /** On `weather` lines. */
  readonly findings: readonly Finding[];
  readonly #log: Log;
  readonly #lines: readonly StationLine[];
  readonly #places: ReturnType<typeof placeLinesOf>;
  readonly #swellings: Swellings;
  readonly #known = new Map<string, Known>();

  constructor(histories: Histories, texts: WeatherTexts) {
    const { log, day } = histories;
    this.#log = log;
    this.#places = placeLinesOf(log, day);
    const { lines, findings } = stationLines(log.all('weather'), texts, day);
    this.#lines = lines;
    this.findings = findings;
    this.#swellings = new Swellings(histories, (place) => this.#of(place).weather.days);
  }

  nights(place: string) {
    return this.#of(place).weather.nights;
  }

  heat(place: string) {
    return this.#of(place).weather.heat;
  }

  frostDates(place: string): FrostDates | undefined {
    return this.#lines.length === 0 ? undefined : this.#of(place).frostDates;
  }

  /** Ten years on record without a night below 0 °C. */
  frostFree(place: string): boolean {
    return this.#lines.length > 0 && this.#of(place).weather.years.frostFree >= 10;
  }

  swelling(cohort: Cohort, on: Day, base: number) {
    return this.#lines.length === 0 ? undefined : this.#swellings.expected(cohort, on, base);
  }

  told(place: string, figure: 'min' | 'max', day: Day): Told | undefined {
    // where files follow each other, the first that has the day speaks
    const source = this.#of(place).sources.find((one) => one[figure] && isOn(one.days, day));
    const offset = source?.[figure];
    if (!source || !offset) return undefined;
    const { entry, path } = source.line;
    const span = entry.line.statement?.remark?.span ?? { start: 0, end: entry.line.text.length };
    return { by: byWords(offset), related: { entry, span, message: `By \`${path}\`, ${offsetWords(offset)}.` } };
  }

  /** Of a place; of the empty name what holds for the nursery. Absent where no station tells anything of it. */
  climate(place: string): Climate | undefined {
    const known = this.#lines.length === 0 ? undefined : this.#of(place);
    return known && known.sources.length > 0 ? known : undefined;
  }

  /** What was read for a line. */
  stationOf(entry: Entry): StationLine | undefined {
    return this.#lines.find((line) => line.entry === entry);
  }

  /** After an edit that left the `weather` lines alone, and of which the batches reached are given. */
  apply(change: LogChange, batches: Iterable<string>): WeatherChange {
    const places = new Set<string>();
    for (const [place, before] of [...this.#known]) {
      const touch = change.touched.get(place);
      if (!touch || (!touch.whole && before.readings === this.#places.readings(place))) continue;
      this.#known.delete(place);
      const now = this.#of(place);
      if (before.south !== now.south || !sameSources(before.sources, now.sources)) places.add(place);
      else this.#known.set(place, { ...now, weather: before.weather, frostDates: before.frostDates });
    }
    if (places.size > 0) this.#swellings.reset();
    return { places, pairs: this.#swellings.apply(batches) };
  }

  #of(place: string): Known {
    const known = this.#known.get(place);
    if (known) return known;
    const readings = this.#places.readings(place);
    const south = isSouth(latitudeOf(place, this.#log));
    const sources = this.#sourcesOf(place, readings);
    const weather = placeWeather(sources, south);
    const made: Known = {
      readings,
      sources,
      weather,
      south,
      frostDates: frostDatesOf(weather, south),
    };
    this.#known.set(place, made);
    return made;
  }

  /** The closest lines that tell of its nights; where none does, the closest that may lend it their calendar. */
  #sourcesOf(place: string, readings: readonly PlaceReading[]): Known['sources'] {
    const own = (covered: boolean, figure: 'min' | 'max') =>
      daily(
        readings.filter(
          ({ day }) => roofsOf[figure].some((flag) => placeCover(place, day, this.#log).has(flag)) === covered,
        ),
        figure,
      );
    // a heated frame is no warmer than its station by a figure: it is as warm as it is kept
    const [min, max] = [own(false, 'min'), own(false, 'max')];
    const [underMin, underMax] = [own(true, 'min'), own(true, 'max')];
    const declared = this.#log.names.declared(place)?.entry.line.statement;
    // a place with a latitude of its own lies somewhere else
    const elsewhere = factOf(declared, 'lat') !== undefined;
    const groups = [
      this.#lines.filter((line) => line.place === place),
      this.#lines.filter((line) => line.place === undefined),
      this.#lines.filter((line) => line.place !== undefined && line.place !== place),
    ];
    const found = groups.map((lines, far) =>
      lines.map((line) => {
        const said = far < 2 && !(elsewhere && far > 0) ? line.offset : undefined;
        const offset = (readHere: readonly Daily[], figure: 'min' | 'max'): Offset | undefined =>
          said !== undefined
            ? { degrees: said }
            : (learnedOffset(readHere, figuresOf(line.days, figure)) ?? (far === 0 ? { degrees: 0 } : undefined));
        const under = (readHere: readonly Daily[], figure: 'min' | 'max') =>
          learnedOffset(readHere, figuresOf(line.days, figure));
        const bare = offsets(offset(min, 'min'), offset(max, 'max'));
        return { line, days: line.days, ...bare, covered: offsets(under(underMin, 'min'), under(underMax, 'max')) };
      }),
    );
    const claimed = found.find((sources) => sources.some((source) => source.min || source.max));
    if (claimed) return claimed.filter((source) => source.min || source.max);
    return elsewhere ? [] : (found.find((sources) => sources.length > 0) ?? []);
  }
}

/** What keeps the frost off, and what makes noon another than out of doors. */
const roofsOf = { min: ['frost-free'], max: ['frost-free', 'heated', 'mist', 'humid'] } as const;

const offsets = (min: Offset | undefined, max: Offset | undefined) => ({
  ...(min ? { min } : {}),
  ...(max ? { max } : {}),
});

/** Every graft of a place asks for the same few. */
function frostDatesOf(weather: PlaceWeather, south: boolean): FrostDates {
  const known = new Map<string, ReturnType<FrostDates>>();
  return (edge, certain) => {
    const asked = `${edge} ${certain}`;
    if (!known.has(asked))
      known.set(asked, frostDate(weather.years, edge === 'last-frost' ? 'last' : 'first', certain, south));
    return known.get(asked);
  };
}

/** A place's own figures by day: of several readings the coldest, the hottest. */
function daily(readings: readonly PlaceReading[], figure: 'min' | 'max'): readonly Daily[] {
  const days = new Map<Day, number>();
  for (const reading of readings) {
    const { day, [figure]: read } = reading;
    if (read !== undefined) days.set(day, Math[figure](read, days.get(day) ?? read));
  }
  return [...days].map(([day, read]) => ({ day, figure: read }));
}

const figures = new WeakMap<readonly StationDay[], Partial<Record<'min' | 'max', ReadonlyMap<Day, number>>>>();

/** By day, made once a station. */
function figuresOf(days: readonly StationDay[], figure: 'min' | 'max'): ReadonlyMap<Day, number> {
  const known = figures.get(days) ?? {};
  figures.set(days, known);
  known[figure] ??= new Map(
    days.flatMap(({ day, [figure]: read }) => (read === undefined ? [] : [[day, read] as const])),
  );
  return known[figure];
}

const sameSources = (a: Known['sources'], b: Known['sources']): boolean =>
  a.length === b.length && a.every((source, i) => b[i] && source.line === b[i].line && sameOffsets(source, b[i]));
const sameOffsets = (a: Source, b: Source) => sameOffset(a.min, b.min) && sameOffset(a.max, b.max);
// on how many days it was learned is part of what is told
const sameOffset = (a: Offset | undefined, b: Offset | undefined) => a?.degrees === b?.degrees && a?.days === b?.days;

const isOn = (days: readonly StationDay[], day: Day): boolean => days[firstFrom(days, day)]?.day === day;

/** `the station`, or what was put to it, and on how many days that was learned. */
function byWords({ degrees: warmer, days }: Offset): string {
  if (warmer === 0) return 'the station';
  const more = `the station ${warmer > 0 ? '+' : '−'}\u00A0${degrees(Math.abs(warmer))}`;
  return days === undefined ? more : `${more} (learned on ${countText(days, 'day')})`;
}

/** `1.5 °C warmer here: the median of 3 days with both`. */
export function offsetWords(offset: Offset): string {
  const { degrees: warmer, days } = offset;
  if (days !== undefined) return `${farWords(offset)} here: the median of ${countText(days, 'day')} with both`;
  return warmer === 0 ? 'taken as it is' : `${farWords(offset)} here, as the line says`;
}

/** `1.5 °C warmer`, `as warm`. */
export function farWords({ degrees: warmer }: Offset): string {
  return warmer === 0 ? 'as warm' : `${degrees(Math.abs(warmer))} ${warmer > 0 ? 'warmer' : 'colder'}`;
}
