import type { Day } from '#grammar/statement.ts';
import type { Refused } from '#server/weather/columns.ts';
import { firstFrom } from '#server/weather/degree-days.ts';
import { readStation, type Station, type StationDay } from '#server/weather/station.ts';
import { sentence } from './checks/words.ts';
import { factOf, namedIn } from './facts.ts';
import type { Entry, Finding } from './model.ts';
import { countText } from './say.ts';
import { namedPath, weatherPath } from './weather-path.ts';

/**
 * The text of the file a `weather` line names, or why there is none. The same object stands for the same text: it is
 * read as CSV once, however often it is asked for.
 */
export type WeatherText = { readonly text: string } | { readonly unread: Unread };

/** `link`: where it leads can't be told here; `untrusted`: the folder's files are not to be read. */
export type Unread = 'missing' | 'outside' | 'unreadable' | 'large' | 'link' | 'untrusted';

/** Bytes of one file, and of all files of a log: a station's longest record has some twenty million. */
export const largest = { file: 64e6, all: 256e6 } as const;

/** Gives the file of a `weather` line; nothing where it isn't read yet, or isn't to be read. */
export type WeatherTexts = (entry: Entry) => WeatherText | undefined;

/** A `weather` line whose file could be read. */
export interface StationLine {
  readonly entry: Entry;
  /** The path as it is written; of a long one its end. */
  readonly path: string;
  /** Key of the place it is the weather of; absent: of the nursery. */
  readonly place?: string;
  /** How much warmer that place is, where the line says so. */
  readonly offset?: number;
  /** Up to the day computed for. */
  readonly days: readonly StationDay[];
  /** All that was read of the file. */
  readonly station: Station;
}

export interface StationLines {
  readonly lines: readonly StationLine[];
  /** On lines whose file isn't there, isn't understood, or has rows that make no sense. */
  readonly findings: readonly Finding[];
}

export function stationLines(entries: readonly Entry[], texts: WeatherTexts, today: Day): StationLines {
  const lines: StationLine[] = [];
  const findings: Finding[] = [];
  const told = new Set<Station>();
  for (const entry of entries) {
    const written = namedPath(entry);
    if (written === undefined) continue;
    const path = shownPath(written);
    const file = weatherPath(entry) === undefined ? outside : texts(entry);
    if (!file) continue;
    if ('unread' in file) {
      const severity = file.unread === 'untrusted' ? 'information' : 'error';
      findings.push(said(entry, severity, unreadWords[file.unread](path)));
      continue;
    }
    const station = stationOf(file);
    if ('refused' in station) {
      findings.push(said(entry, 'error', `\`${path}\` ${station.refused}.`));
      continue;
    }
    // a file that several places take their weather from has its rows named once
    if (station.skipped.length > 0 && !told.has(station))
      findings.push(said(entry, 'information', skippedWords(path, station)));
    told.add(station);
    const place = namedIn(factOf(entry.line.statement, 'in'))?.key;
    const offset = offsetOf(entry);
    lines.push({
      entry,
      path,
      ...(place === undefined ? {} : { place }),
      ...(offset === undefined ? {} : { offset }),
      days: station.days.slice(0, firstFrom(station.days, today + 1)),
      station,
    });
  }
  return { lines, findings };
}

/** A sentence has to have room for more than the path. */
const shownPath = (path: string): string => (path.length > 48 ? `…${path.slice(-47)}` : path);

const outside: WeatherText = { unread: 'outside' };

const unreadWords: Readonly<Record<Unread, (path: string) => string>> = {
  missing: (path) => `There is no file \`${path}\` beside this log.`,
  outside: (path) => `\`${path}\` lies outside the log’s folder and isn’t read: put the file beside the log.`,
  unreadable: (path) => `\`${path}\` can’t be read: is it a text file, and may it be opened?`,
  large: (path) =>
    `\`${path}\` is too large: at most ${largest.file / 1e6}\u00A0MB a station and ${largest.all / 1e6}\u00A0MB a log are read.`,
  link: (path) => `\`${path}\` is a link, and where it leads can’t be told here: put the file itself beside the log.`,
  untrusted: (path) => `\`${path}\` isn’t read as long as this folder isn’t trusted.`,
};

const known = new WeakMap<WeatherText, Station | Refused>();

function stationOf(file: Extract<WeatherText, { text: string }>): Station | Refused {
  let station = known.get(file);
  if (!station) {
    station = readStation(file.text);
    known.set(file, station);
  }
  return station;
}

function said(entry: Entry, severity: Finding['severity'], message: string): Finding {
  const { statement, text } = entry.line;
  return {
    code: 'unreadable',
    severity,
    entry,
    span: statement?.remark?.span ?? { start: 0, end: text.length },
    message: sentence(message),
  };
}

/** As many of the rows as there is room for. */
function skippedWords(path: string, { skipped }: Station): string {
  const head = `${countText(skipped.length, 'row')} of \`${path}\` ${skipped.length === 1 ? 'is' : 'are'} left out: `;
  const named = skipped.map(({ row, why }) => `row ${row}, ${why}`);
  let shown = sentence(`${head}${named[0]}.`);
  for (let count = 2; count <= named.length; count++) {
    const more = `${head}${named.slice(0, count).join('; ')}.`;
    if (more.length > 140) break;
    shown = more;
  }
  return shown;
}

/** A difference of temperatures: 3 °F are 1.7 °C, not -16 as a reading of 3 °F would be. */
function offsetOf({ line: { statement, text } }: Entry): number | undefined {
  const fact = factOf(statement, 'offset');
  if (!fact || fact.lost || fact.value.kind !== 'amount') return undefined;
  const { low, high } = fact.value;
  const read = low === undefined || high === undefined ? (low ?? high) : (low + high) / 2;
  if (read === undefined) return undefined;
  return /F\s*$/.test(text.slice(fact.valueSpan.start, fact.valueSpan.end)) ? read + 32 / 1.8 : read;
}
