import Papa from 'papaparse';

export interface SheetRow {
  /** As a spreadsheet counts: the first row is 1. */
  readonly row: number;
  /** Cells to the letter as they were read, blanks and line breaks with them. */
  readonly cells: readonly string[];
  /** Its quotation marks don't match: the line was cut at each delimiter and nothing else. */
  readonly torn?: true;
}

export interface Sheet {
  readonly delimiter: Delimiter;
  /** How the file ends its lines; the side file does the same. */
  readonly lineEnd: '\r\n' | '\n' | '\r';
  /** Rows in which any cell has more than blanks. */
  readonly rows: readonly SheetRow[];
}

export type Delimiter = ',' | ';' | '\t';

/** Rows with quotation marks that don't match, after which marks are no longer believed at all. */
const mostTorn = 100;

/** The cells of a CSV text. A stray quotation mark costs its own line only, never those below it. */
export function readSheet(text: string): Sheet {
  const plain = text.replace(/^\uFEFF/, '');
  const { delimiter, from } = delimiterOf(plain);
  const lineEnd = lineEndOf(plain);
  const newline = lineEnd === '\r' ? '\r' : '\n';
  const rows: SheetRow[] = [];
  let number = from.rows;
  const add = (cells: readonly string[], raw: string, torn: boolean) => {
    number++;
    const whole = lineEnd === '\r\n' ? withoutReturn(cells, raw) : cells;
    if (whole.some((cell) => cell.trim() !== '')) rows.push({ row: number, cells: whole, ...(torn ? { torn } : {}) });
  };
  let rest = plain.slice(from.at);
  for (let torn = 0; rest !== ''; torn++) {
    const quotes = torn < mostTorn;
    const at = readUntilTorn(rest, { delimiter, newline, quotes }, (cells, raw) =>
      add(cells, raw, !quotes && raw.includes('"')),
    );
    if (at === undefined) break;
    const end = rest.indexOf(newline, at);
    const line = rest.slice(at, end < 0 ? undefined : end);
    add(line.split(delimiter), line, true);
    rest = end < 0 ? '' : rest.slice(end + 1);
  }
  return { delimiter, lineEnd, rows };
}

/** A text without what stands inside quotation marks; enough of it to tell how it is written. */
const unquoted = (text: string) => text.slice(0, 100_000).replace(/"[^"]*"/g, '');

/** Old programs end rows with a return and break lines inside a cell with a line feed: only those outside count. */
function lineEndOf(text: string): Sheet['lineEnd'] {
  const outside = unquoted(text);
  const seen = /[\r\n]/.test(outside) ? outside : text;
  if (seen.includes('\r\n')) return '\r\n';
  return seen.includes('\r') && !seen.includes('\n') ? '\r' : '\n';
}

/** The delimiter that the first line, else the next ones, have most often outside quotation marks; a spreadsheet's own `sep=;` line is believed. */
function delimiterOf(text: string): { delimiter: Delimiter; from: { at: number; rows: number } } {
  const said = /^"?sep=([,;\t])"?(?:\r\n|\r|\n|$)/.exec(text);
  if (said) return { delimiter: said[1] as Delimiter, from: { at: said[0].length, rows: 1 } };
  const lines = unquoted(text).split(/\r\n|\r|\n/, 10);
  const [first] = ([',', ';', '\t'] as const)
    .map((mark) => {
      const counts = lines.map((line) => line.split(mark).length);
      return { mark, most: Math.max(...counts), onTop: counts[0] ?? 0 };
    })
    .sort((a, b) => b.onTop - a.onTop || b.most - a.most);
  return { delimiter: first?.mark ?? ',', from: { at: 0, rows: 0 } };
}

/** Hands on row after row; gives where the first one begins whose quotation marks don't match. */
function readUntilTorn(
  text: string,
  { delimiter, newline, quotes }: { delimiter: Delimiter; newline: '\n' | '\r'; quotes: boolean },
  add: (cells: readonly string[], raw: string) => void,
): number | undefined {
  if (!quotes) {
    const lines = text.split(newline);
    if (lines.at(-1) === '') lines.pop();
    for (const line of lines) add(line.split(delimiter), line);
    return undefined;
  }
  let at = 0;
  let torn: number | undefined;
  Papa.parse<string[]>(text, {
    delimiter,
    newline,
    step: ({ data, errors, meta }, parser) => {
      if (errors.some(({ type }) => type === 'Quotes')) {
        torn = at;
        parser.abort();
        return;
      }
      add(data, text.slice(at, meta.cursor));
      at = meta.cursor;
    },
  });
  return torn;
}

/** A line feed ended the row: the return before it is no part of the last cell, unless it stands inside its quotation marks. */
function withoutReturn(cells: readonly string[], raw: string): readonly string[] {
  const last = cells.at(-1);
  return last?.endsWith('\r') && !/\r" *\r?\n?$/.test(raw) ? [...cells.slice(0, -1), last.slice(0, -1)] : cells;
}
