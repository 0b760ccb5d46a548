import type { Day } from '#grammar/statement.ts';
import { dayOf } from '#grammar/values/date.ts';
import { type Columns, columnsOf, type Reading, type Refused } from './columns.ts';
import { rowsIn } from './rows.ts';

/** °C. A station may have one of both on a day. */
export interface StationDay {
  readonly day: Day;
  readonly min?: number;
  readonly max?: number;
}

/** Counted as a spreadsheet does: the header is row 1. */
export interface SkippedRow {
  readonly row: number;
  /** `12.13.2026 is no date`: what is wrong with it, without a stop. */
  readonly why: string;
}

export interface Station {
  /** One a day, in order. */
  readonly days: readonly StationDay[];
  readonly skipped: readonly SkippedRow[];
  /** Figures left out as they failed the station's own quality control. */
  readonly flagged: number;
}

/**
 * A station's daily minima and maxima from the text of a CSV file, by its header: `DATE` with `TMIN`, `TMAX` in tenths
 * of a degree as GHCN-Daily has them (missing: blank or -9999; a second part of `TMIN_ATTRIBUTES` that isn't blank is a
 * failed quality control), or with `temp_min`, `temp_max` in °C. Other columns aren't read, rows that make no sense are
 * left out and named. Never throws. Order of the flags (measurement, quality, source): readme-by_station.txt of
 * GHCN-Daily, NOAA; its columns, units and missing figures: from memory.
 */
export function readStation(text: string): Station | Refused {
  const rows = rowsIn(text);
  const header = rows.next().value ?? [];
  if ('refused' in header) return header;
  const columns = columnsOf(header);
  if ('refused' in columns) return columns;
  const found = rowsOf(rows, columns, header.length);
  if ('refused' in found) return found;
  return doubt(found, columns) ?? settled(found);
}

interface Row {
  readonly row: number;
  readonly day: Day;
  readonly min?: number;
  readonly max?: number;
}

interface Found {
  readonly rows: readonly Row[];
  readonly skipped: readonly SkippedRow[];
  readonly flagged: number;
  /** Rows with a decimal where tenths have none, and rows of a heat or cold no thermometer has shown. */
  readonly decimals: readonly SkippedRow[];
  readonly beyond: readonly SkippedRow[];
}

function rowsOf(data: Iterable<readonly string[] | Refused>, columns: Columns, width: number): Found | Refused {
  const rows: Row[] = [];
  const found = { skipped: [] as SkippedRow[], decimals: [] as SkippedRow[], beyond: [] as SkippedRow[] };
  let [flagged, row, station] = [0, 1, ''];
  for (const cells of data) {
    if ('refused' in cells) return cells;
    row++;
    const name = (columns.station === undefined ? undefined : cells[columns.station]?.trim()) || station;
    if (station && name !== station)
      return { refused: `holds more than one station, ${quoted(`${station} and ${name}`)}: one file a station` };
    station = name;
    if (cells.every((cell) => cell.trim() === '')) continue;
    const skip = (why: string) => found.skipped.push({ row, why });
    if (cells.length < width || cells.slice(width).some((cell) => cell.trim() !== '')) {
      skip(`${cells.length} fields where the header has ${width}`);
      continue;
    }
    const day = dayIn(cells[columns.day] ?? '');
    if (day === undefined) {
      skip(`${quoted(cells[columns.day] ?? '')} is no date as 2026-10-09 is`);
      continue;
    }
    const [min, max] = [read(cells, columns.min), read(cells, columns.max)];
    flagged += [min, max].filter((one) => one === 'flagged').length;
    const slip = [min, max].find((one) => typeof one === 'object');
    if (slip) {
      skip(slip.why);
      if (slip.kind !== 'unread') found[slip.kind].push({ row, why: slip.why });
    } else if (typeof min === 'number' && typeof max === 'number' && min > max) {
      skip(`a minimum of ${min} over a maximum of ${max}`);
    } else if (typeof min === 'number' || typeof max === 'number') {
      rows.push({ row, day, ...(typeof min === 'number' ? { min } : {}), ...(typeof max === 'number' ? { max } : {}) });
    }
  }
  return { rows, flagged, ...found };
}

/** Colder and hotter than any weather station has read: -89.2 and 56.7 °C (World Meteorological Organization; from memory). */
const [coldest, hottest] = [-90, 60];

interface Slip {
  readonly kind: 'unread' | 'decimals' | 'beyond';
  readonly why: string;
}

function read(cells: readonly string[], reading: Reading | undefined): number | 'missing' | 'flagged' | Slip {
  if (!reading) return 'missing';
  const text = (cells[reading.at] ?? '').trim().replace('−', '-');
  if (/^(|na|nan|-9999(\.0+)?)$/i.test(text)) return 'missing';
  if (reading.flags !== undefined && (cells[reading.flags] ?? '').split(',')[1]?.trim()) return 'flagged';
  if (!/^[-+]?\d{1,6}([.,]\d{1,6})?$/.test(text))
    return { kind: 'unread', why: `${quoted(text)} in \`${reading.name}\` is no figure` };
  if (reading.tenths && /[.,]/.test(text))
    return {
      kind: 'decimals',
      why: `${quoted(text)} in \`${reading.name}\`, where tenths of a degree have no decimals`,
    };
  const degrees = Number(text.replace(',', '.')) / (reading.tenths ? 10 : 1);
  if (degrees < coldest || degrees > hottest)
    return { kind: 'beyond', why: `${degrees} °C in \`${reading.name}\`, which no thermometer has shown` };
  return degrees;
}

/** Year first, with `-`, `/` or nothing between; a time behind it is passed over. Anything else is read two ways. */
function dayIn(text: string): Day | undefined {
  const parts = /^\s*(\d{4})([-/]?)(\d{1,2})\2(\d{1,2})(?:[T ].*)?$/.exec(text);
  if (!parts || (parts[2] === '' && `${parts[3]}${parts[4]}`.length !== 4)) return undefined;
  return dayOf(Number(parts[1]), Number(parts[3]), Number(parts[4]));
}

/**
 * Figures in another unit than the header says are worse than none. NOAA's order form gives `TMIN` in tenths, in °C with
 * decimals or in whole °F, as it is asked. House defaults: a tenth of the rows with decimals, a hundredth beyond what a
 * thermometer shows, or a year of which no day reached 13 °C, where nothing grows that could be grafted on.
 */
function doubt({ rows, decimals, beyond, skipped }: Found, { min, max }: Columns): Refused | undefined {
  const all = rows.length + skipped.length;
  if (decimals.length * 10 > all)
    return {
      refused: `has decimals under \`TMIN\` or \`TMAX\` (row ${decimals[0]?.row}), which hold tenths: degrees stand under \`temp_min\`, \`temp_max\``,
    };
  if (beyond.length * 100 > all && beyond.length > 1)
    return {
      refused: `has ${beyond.length} days with figures no thermometer has shown (row ${beyond[0]?.row}): ${min?.tenths || max?.tenths ? 'tenths of a degree' : 'degrees'} Celsius are read`,
    };
  const highest = rows.reduce((top, row) => Math.max(top, row.max ?? row.min ?? coldest), coldest);
  if (max?.tenths && rows.filter((row) => row.max !== undefined).length >= 365 && highest < 13)
    return {
      refused: `has no day over ${highest} °C in a year of tenths: whole degrees, °F perhaps? \`temp_min\`, \`temp_max\` hold °C`,
    };
  if (rows.length === 0 && skipped[0])
    return { refused: `has no row that could be read; row ${skipped[0].row}: ${skipped[0].why}` };
  return rows.length === 0 ? { refused: 'has a header and no figures' } : undefined;
}

/** One row a day, in order; of a day that stands twice the first holds. */
function settled({ rows, skipped, flagged }: Found): Station {
  const seen = new Map<Day, StationDay>();
  const twice: SkippedRow[] = [];
  for (const { row, ...day } of rows) {
    if (seen.has(day.day)) twice.push({ row, why: 'its day stood there before' });
    else seen.set(day.day, day);
  }
  return {
    days: [...seen.values()].sort((a, b) => a.day - b.day),
    skipped: [...skipped, ...twice].sort((a, b) => a.row - b.row),
    flagged,
  };
}

const quoted = (text: string): string => `\`${text.length > 24 ? `${text.slice(0, 23)}…` : text}\``;
