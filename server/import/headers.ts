import { type FactName, factNames, factRow } from './facts.ts';

/** Headers that say two things: what stands in the column decides. */
export const either: ReadonlyMap<string, 'scion' | 'stock' | 'number'> = new Map([
  ['scion', 'scion'],
  ['stock', 'stock'],
  ['rootstock', 'stock'],
  ['root stock', 'stock'],
  ['understock', 'stock'],
  ['number', 'number'],
  ['no', 'number'],
  ['nr', 'number'],
]);

/** Words a header can do without. */
const filler = new Set(['the', 'a', 'an', 'of', 'in', 'at', 'was', 'is', 'were']);
const plainWord: ReadonlyMap<string, string> = new Map([
  ['diam', 'diameter'],
  ['dia', 'diameter'],
  ['thick', 'thickness'],
  ['pct', 'percent'],
  ['%', 'percent'],
  ['#', 'no'],
  ['num', 'number'],
]);

/** A header as it is compared: small letters, no accents, no unit, no marks, no plural; but grafts are many, a graft is one. */
export function headerKey(header: string): string {
  return header
    .slice(0, 100)
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[([{][^)\]}]*[)\]}]/g, ' ')
    .replace(/[%#]/g, ' $& ')
    .replace(/[^\p{L}\p{N}%#]+/gu, ' ')
    .trim()
    .split(' ')
    .map((word) => plainWord.get(word) ?? word)
    .map((word) => (word.length > 3 && word !== 'grafts' && /[^su]s$/.test(word) ? word.slice(0, -1) : word))
    .filter((word, _, all) => all.length === 1 || !filler.has(word))
    .join(' ');
}

/** Facts by header, each with its place among the words for it: the lower, the surer. */
const factOfHeader: ReadonlyMap<string, { readonly fact: FactName; readonly rank: number }> = new Map(
  factNames.flatMap((fact) =>
    [fact, ...factRow(fact).also].map((word, rank) => [headerKey(word), { fact, rank }] as const),
  ),
);

/** What a header stands for; a unit behind it changes nothing. */
export function factFor(header: string): { readonly fact: FactName; readonly rank: number } | undefined {
  const key = headerKey(header);
  const short = key.replace(/ \S+$/, (word) => (unitOf(word) ? '' : word));
  return factOfHeader.get(key) ?? factOfHeader.get(short);
}

/** The unit a header names, in brackets or as its last word. */
export function headerUnit(header: string): string | undefined {
  const said = /[([{]\s*([^)\]}]+?)\s*[)\]}]\s*$/.exec(header)?.[1] ?? /(?:^|[\s,/])(\S+)\s*$/.exec(header)?.[1];
  return said === undefined ? undefined : unitOf(said);
}

const unitWords: Readonly<Record<string, readonly string[]>> = {
  mm: ['mm', 'millimetre', 'millimeter', 'millimetres', 'millimeters'],
  cm: ['cm', 'centimetre', 'centimeter', 'centimetres', 'centimeters'],
  in: ['in', 'inch', 'inches', '"', '”', '″'],
  '%': ['%', 'percent', 'pct', 'per cent'],
  d: ['d', 'day', 'days'],
  wk: ['wk', 'week', 'weeks'],
  mo: ['mo', 'month', 'months'],
  y: ['y', 'yr', 'yrs', 'year', 'years'],
};
const unitOfWord = new Map(Object.entries(unitWords).flatMap(([unit, words]) => words.map((word) => [word, unit])));

/** A unit by any of its words. */
export const unitOf = (word: string): string | undefined => unitOfWord.get(word.trim().toLowerCase());
