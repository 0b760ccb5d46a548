import Papa from 'papaparse';
import type { Refused } from './columns.ts';

/** A thousand years of days, and ten times the widest row of GHCN-Daily (house defaults). */
const [mostRows, longestRow] = [400_000, 20_000];

/** What is taken apart at once: a stray quote swallows no more, and has no more slips, than there are in it. */
const blockLength = 500_000;

/**
 * Rows of a station's CSV, in order. The last is why the rest isn't read, where the text is nothing a station has: any
 * file may be named, and the largest is no reason to fill the memory.
 */
export function* rowsIn(text: string): Generator<readonly string[] | Refused, undefined> {
  const newline = text.includes('\n') ? '\n' : '\r';
  const delimiter = delimiterOf(text.slice(0, longestRow).split(newline, 1)[0] ?? '');
  let row = 0;
  for (let at = 0, end = 0; at < text.length; at = end) {
    let rows = 0;
    while (end < text.length && end - at < blockLength) {
      const next = text.indexOf(newline, end);
      const length = (next < 0 ? text.length : next) - end;
      rows++;
      if (length > longestRow)
        return yield { refused: `has ${countOf(length)} characters in row ${row + rows}: a row is one day` };
      if (row + rows > mostRows)
        return yield { refused: `has more than ${countOf(mostRows)} rows: a station’s file has one a day` };
      end += length + 1;
    }
    const { data, errors } = Papa.parse<string[]>(text.slice(at, end), { delimiter, header: false });
    const quote = errors.find(({ code }) => code === 'InvalidQuotes' || code === 'MissingQuotes');
    // a stray quote swallows what follows it: then no row can be trusted
    if (quote)
      return yield { refused: `has a quote in row ${row + (quote.row ?? 0) + 1} that never ends or ends too early` };
    // a block ends with its last row's own newline, behind which no other row begins
    if (data.at(-1)?.length === 1 && data.at(-1)?.[0] === '') data.pop();
    yield* data;
    row += data.length;
  }
  return undefined;
}

/** What parts the names of the header: the library's own guess errs where there are two columns. */
function delimiterOf(header: string): string {
  const counts = [',', ';', '\t'].map((sign) => [sign, header.split(sign).length] as const);
  return counts.reduce((most, one) => (one[1] > most[1] ? one : most))[0];
}

const countOf = (count: number): string => count.toLocaleString('en');
