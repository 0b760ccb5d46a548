import { readDateCell } from './dates.ts';
import { areDayNumbers } from './day-numbers.ts';
import { type FactName, factNames, factRow, type facts, isFactName } from './facts.ts';
import { either, factFor, headerKey, headerUnit, unitOf } from './headers.ts';
import { whyHeader } from './left.ts';
import type { Sheet, SheetRow } from './sheet.ts';
import { isBlank, readCount } from './words.ts';

export interface Column {
  readonly index: number;
  /** As the remark and the preview name it: one line, never empty. */
  readonly header: string;
  /** `unknown`: into the remark, under its header. `none`: left out, as asked. `empty`: no row has anything there. */
  readonly fact: FactName | 'unknown' | 'none' | 'empty';
  readonly unit?: string;
  /** Why it is not what its header says. */
  readonly note?: string;
}

export interface Table {
  readonly above: readonly SheetRow[];
  readonly head: SheetRow;
  readonly columns: readonly Column[];
  readonly rows: readonly SheetRow[];
}

/** Headers stand within the first rows, below a title at most. */
const headWithin = 10;
/** No sheet of grafts is wider. */
const mostColumns = 500;

/** Which row has the headers, and what each column is; or the sentence that asks. */
export function readTable(sheet: Sheet, map: ReadonlyMap<string, string>): Table | { readonly ask: string } {
  const asked = new Map([...map].map(([header, fact]) => [headerLine(header).toLowerCase(), fact] as const));
  const known = (cell: string) =>
    asked.has(headerLine(cell).toLowerCase()) || factFor(cell) !== undefined || either.has(headerKey(cell));
  const scores = sheet.rows.slice(0, headWithin).map(({ cells, torn }) => (torn ? 0 : cells.filter(known).length));
  const at = scores.indexOf(Math.max(0, ...scores));
  const head = sheet.rows[at];
  if (!head) return { ask: 'There is no row in it.' };
  const rows = sheet.rows.slice(at + 1);
  const wide = rows.reduce((most, { cells }) => Math.max(most, cells.length), head.cells.length);
  if (wide > mostColumns)
    return { ask: `It has ${wide.toLocaleString('en')} columns: no more than ${mostColumns} are read.` };
  const headers = Array.from({ length: wide }, (_, i) => headerLine(head.cells[i] ?? '') || `column ${i + 1}`);
  const strange = [...map.keys()].find(
    (header) => !headers.some((h) => h.toLowerCase() === headerLine(header).toLowerCase()),
  );
  if (strange !== undefined) return { ask: `--map names “${headerLine(strange)}”, and no column has that header.` };
  const claims: Claim[] = [];
  for (const [index, header] of headers.entries()) {
    const cells = rows.map((row) => row.cells[index] ?? '');
    const claim = claimOf(index, header, cells, asked.get(header.toLowerCase()));
    if ('ask' in claim) return claim;
    claims.push(claim);
  }
  const numbered = numberColumns(claims, headers, rows);
  if ('ask' in numbered) return numbered;
  const columns = settle(numbered, headers);
  if (columns.every(({ fact }) => fact !== 'date'))
    return {
      ask: `No column says when the grafts were made; the headers are ${headersText(headers)}. ${mapHint(headers[0] ?? '', 'date')}`,
    };
  return { above: sheet.rows.slice(0, at), head, columns, rows };
}

/** A header in one line. */
export const headerLine = (header: string): string =>
  header
    .replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\s]+/gu, ' ')
    .trim()
    .slice(0, 60);

const mapHint = (header: string, fact: string) =>
  `Say it with --map, a file such as ${JSON.stringify({ [header]: fact })}.`;
const headersText = (headers: readonly string[]) =>
  `${headers
    .slice(0, 12)
    .map((header) => `“${header}”`)
    .join(', ')}${headers.length > 12 ? ' …' : ''}`;

interface Claim {
  readonly index: number;
  readonly fact: Column['fact'] | 'number';
  /** The lower, the surer: of two columns for one fact the surer has it. */
  readonly rank: number;
  readonly unit?: string;
  readonly note?: string;
}

function claimOf(
  index: number,
  header: string,
  cells: readonly string[],
  said: string | undefined,
): Claim | { ask: string } {
  if (said !== undefined) return saidClaim(index, header, said);
  // a side file that comes back mended
  if (header === whyHeader) return { index, fact: 'none', rank: 0 };
  if (cells.every((cell) => cell.trim() === '')) {
    // a day or a count that nobody wrote is not the same as none asked for
    const fact = factFor(header)?.fact;
    return { index, fact: fact === 'date' || fact === 'count' ? fact : 'empty', rank: 99 };
  }
  const unit = headerUnit(header);
  const claim = (fact: Claim['fact'], rank: number): Claim => ({ index, fact, rank, ...(unit ? { unit } : {}) });
  const key = headerKey(header);
  const two = either.get(key);
  const filled = cells.filter((cell) => !isBlank(cell));
  const most = (fits: (cell: string) => boolean) => filled.filter(fits).length * 2 > filled.length;
  const isDate = (cell: string) => readDateCell(cell) !== undefined;
  if (two === 'scion') return claim(most((cell) => /^\s*\d/.test(cell)) ? 'scion' : 'plant', 90);
  if (two === 'stock') return claim(most((cell) => /^\s*\d/.test(cell)) ? 'stock' : 'understock', 90);
  if (two === 'number') return claim('number', 90);
  const found = factFor(header);
  if (!found) return claim('unknown', 0);
  const { fact, rank } = found;
  if (fact === 'date' && !most(isDate) && !areDayNumbers(filled) && most((cell) => readCount(cell) !== undefined))
    return claim('count', 80);
  if (fact === 'graft' && most(isDate)) return claim('date', 80);
  return claim(fact, rank);
}

/** `scion-length mm`: a fact and, if wanted, the unit its bare figures are in. */
function saidClaim(index: number, header: string, said: string): Claim | { ask: string } {
  const [fact = '', word, more] = said.trim().split(/\s+/);
  if (fact === 'none') return { index, fact, rank: -1 };
  const unit = word === undefined ? headerUnit(header) : unitOf(word);
  if (!isFactName(fact) || more !== undefined || (word !== undefined && !unit))
    return {
      ask: `--map takes “${header}” for “${said.slice(0, 40)}”; it knows ${[...factNames, 'none'].join(', ')}, and a unit behind it.`,
    };
  return { index, fact, rank: -1, ...(unit ? { unit } : {}) };
}

/** “Number” is a graft’s number or how many there are: the other columns tell, or the sheet’s owner is asked. */
function numberColumns(
  claims: Claim[],
  headers: readonly string[],
  rows: readonly SheetRow[],
): Claim[] | { ask: string } {
  const has = (fact: FactName) => claims.some((claim) => claim.fact === fact);
  const cellsOf = (index: number) => rows.map(({ cells }) => (cells[index] ?? '').trim());
  const batches = claims.filter(({ fact }) => fact === 'batch').map(({ index }) => cellsOf(index))[0];
  const out: Claim[] = [];
  for (const claim of claims) {
    if (claim.fact !== 'number') {
      out.push(claim);
      continue;
    }
    const numbers = cellsOf(claim.index);
    const inBatch = numbers.map((number, i) => `${batches?.[i] ?? ''}\n${number}`);
    const repeats = new Set(inBatch).size < inBatch.length;
    const counted = numbers.every((number) => number === '' || readCount(number) !== undefined);
    const rising = numbers.every((number, i) => i === 0 || Number(number) === Number(numbers[i - 1]) + 1);
    if (has('count') || !counted || (rising && numbers.length > 1 && !has('graft')))
      out.push({ ...claim, fact: 'graft' });
    else if (has('graft') || repeats) out.push({ ...claim, fact: 'count' });
    else if (batches && new Set(batches).size < batches.length) out.push({ ...claim, fact: 'graft' });
    else
      return {
        ask: `“${headers[claim.index]}” may be each graft’s number or how many were made. ${mapHint(headers[claim.index] ?? '', 'count')} Or "graft".`,
      };
  }
  return out;
}

/** One column a fact, remarks apart: the surest claim has it, the others go to the remark. */
function settle(claims: readonly Claim[], headers: readonly string[]): Column[] {
  const winner = new Map<Column['fact'], Claim>();
  for (const claim of claims) {
    const before = winner.get(claim.fact as Column['fact']);
    if (!before || claim.rank < before.rank) winner.set(claim.fact as Column['fact'], claim);
  }
  return claims.map((claim) => {
    const { index, unit } = claim;
    const fact = claim.fact as Column['fact'];
    const column = { index, header: headers[index] ?? '', ...(unit ? { unit } : {}) };
    const first = winner.get(fact);
    if (['remark', 'unknown', 'none', 'empty'].includes(fact) || first === claim) return { ...column, fact };
    return {
      ...column,
      fact: 'unknown',
      note: `“${headers[first?.index ?? 0]}” is ${factRow(fact as keyof typeof facts).is}`,
    };
  });
}
